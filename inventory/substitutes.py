"""What may stand in for an item where it is short?"""

from django.db import transaction
from django.db.models import Max

from inventory import activity, ledger
from inventory.models import Item, Person, Substitute
from inventory.refusals import Refusal
from inventory.values import check_columns


@transaction.atomic
def name(*, item: Item, other: Item, factor: int, by: Person | None, note: str = "") -> Substitute:
    """Say that so many thousandths of another item do for one unit of this; atomic, can be undone.

    Of items counted alike the factor is by weight, volume or piece; else between their own units.
    """
    if other.pk == item.pk:
        raise Refusal("Choose another item.", field="other")
    if not 1 <= factor <= 1_000_000:
        raise Refusal("A factor lies between 0.001 and 1000.", field="factor")
    if Substitute.objects.filter(item=item, other=other).exists():
        raise Refusal(f"{other} stands in for {item} already.", field="other")
    last = Substitute.objects.filter(item=item).aggregate(last=Max("place"))["last"] or 0
    row = Substitute(item=item, other=other, factor=factor, place=last + 1, note=note)
    check_columns(row, ["note"])
    row.save(force_insert=True)
    activity.record(
        by=by,
        verb="substitute",
        subject=row,
        summary=f"{other} may stand in for {item}, {factor / 1000:g} for 1",
        undo="substitutes.name",
        undo_data={"substitute": row.pk},
    )
    return row


@activity.undoes("substitutes.name")
def _undo_name(data: dict, by: Person | None) -> None:
    if not Substitute.objects.filter(pk=data["substitute"]).delete()[0]:
        raise Refusal("It has been taken back already.")


@transaction.atomic
def remove(*, substitute: Substitute, by: Person | None) -> None:
    """It does not stand in any more; atomic, leaves an activity."""
    said = str(substitute)
    item = substitute.item
    substitute.delete()
    activity.record(by=by, verb="remove", subject=item, summary=f"No longer {said}")


def of_item(item: Item) -> list[tuple[Substitute, int]]:
    """In their order, each with what is on hand of it; two queries."""
    rows = list(Substitute.objects.filter(item=item).select_related("other"))
    held = ledger.stock([row.other_id for row in rows])
    return [(row, held.get(row.other_id, 0)) for row in rows]
