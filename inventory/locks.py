"""Which rows does a write hold still, and in which order, so that no two writers wait for each other?

Every write to what an item has, needs or awaits holds the item first. Whoever holds an item holds its lots:
no line is written without. On SQLite these are plain reads: there the immediate transaction keeps other
writers out.
"""

from collections.abc import Iterable

from inventory.models import Item, Lot


def lock_items(keys: Iterable[int]) -> None:
    """Hold these items; a transaction that will touch several calls this once, before all else.

    The lock leaves the key alone, so that another transaction may insert a row that points at the item.
    """
    rows = Item.objects.select_for_update(no_key=True).filter(pk__in=set(keys)).order_by("pk")
    list(rows.values_list("pk"))


def lock_lots(keys: Iterable[int]) -> dict[int, Lot]:
    """Hold the items of these lots and return the lots by key, each with its item."""
    rows = Lot.objects.select_related("item").filter(pk__in=set(keys)).order_by("item_id", "pk")
    return {lot.pk: lot for lot in rows.select_for_update(of=("item",), no_key=True)}
