"""Which rows does a write hold still, and in which order, so that no two writers wait for each other?

Every write to what an item has, needs or awaits holds the item first and its lots after it. On SQLite
these are plain reads: there the immediate transaction keeps other writers out.
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
    """Hold these lots, their items first, and return them by key as they now stand."""
    keys = set(keys)
    lock_items(Lot.objects.filter(pk__in=keys).values_list("item_id", flat=True))
    rows = Lot.objects.select_for_update(of=("self",), no_key=True).select_related("item")
    return {lot.pk: lot for lot in rows.filter(pk__in=keys).order_by("pk")}
