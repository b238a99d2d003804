"""What became of part of a lot: frozen, dried, steeped, or put elsewhere?"""

import datetime as dt

from django.db import models, transaction

from inventory import activity, clock, ledger
from inventory.dealing import deal
from inventory.ledger import said
from inventory.locks import lock_items, lock_lots
from inventory.models import Item, Lot, Movement, Person, StoragePlace
from inventory.refusals import Refusal
from inventory.shown import day_text
from inventory.values import check_quantity


class How(models.TextChoices):
    FROZEN = "frozen", "frozen"
    DRIED = "dried", "dried"
    STEEPED = "steeped", "steeped"
    ELSEWHERE = "elsewhere", "put elsewhere, as it is"


# Of these there is never more afterwards than before.
NEVER_MORE = (How.FROZEN, How.DRIED, How.ELSEWHERE)


@transaction.atomic
def convert(
    *,
    lot: Lot,
    amount: int,
    into: Item,
    yields: int,
    how: str,
    on: dt.date,
    by: Person | None,
    place: StoragePlace | None = None,
    use_by: dt.date | None = None,
) -> Lot:
    """Make a new lot of part of one; both lines are written or neither. Can be undone as a whole.

    Refuses more than the lot holds, and more out than in of what can only lose weight. What was paid
    for the part goes with it.
    """
    check_quantity(amount, field="amount")
    check_quantity(yields, field="yields")
    if how not in How.values:
        raise Refusal(f"{how!r} is nothing that is done here.", field="how")
    if on > clock.today():
        raise Refusal(f"{day_text(on)} is still to come.", field="on")
    if how in NEVER_MORE and into.base == lot.item.base and yields > amount:
        raise Refusal(
            f"{said(lot.item, amount)} cannot become {said(into, yields)} by that.", field="yields"
        )
    lock_items({lot.item_id, into.pk})
    try:
        [line] = ledger.take_out(takes=[(lot, amount)], on=on, by=by, reason=f"{how} as {into}")
    except Refusal as refusal:
        raise Refusal(refusal.message, field="amount") from None
    came = ledger.bring_in(
        item=into,
        quantity=yields,
        on=on,
        by=by,
        place=place,
        use_by=use_by,
        origin=f"{how} from {lot.mark}"[:120],
        cost=_share_of_cost(lot, amount),
    )
    deal(items={lot.item_id, into.pk}, by=by, locked=True)
    share = f", {yields / amount:.0%}" if into.base == lot.item.base else ""
    activity.record(
        by=by,
        verb="convert",
        subject=came.lot,
        summary=(
            f"{said(lot.item, amount)} of {lot.item} ({lot.mark}) {how}: {said(into, yields)} of "
            f"{into} ({came.lot.mark}){share}"
        ),
        undo="conversions.convert",
        undo_data={"movements": [line.pk, came.pk]},
    )
    return came.lot


def _share_of_cost(lot: Lot, amount: int) -> int | None:
    if lot.cost is None:
        return None
    lines = lot.movements.filter(kind=Movement.Kind.RECEIVE)
    whole = lines.aggregate(all=models.Sum("quantity"))["all"] or amount
    return round(lot.cost * min(1, amount / whole))


@activity.undoes("conversions.convert")
def _undo_convert(data: dict, by: Person | None) -> None:
    lines = list(Movement.objects.filter(pk__in=data["movements"]).order_by("-pk"))
    lots = lock_lots([line.lot_id for line in lines])
    for line in lines:
        ledger.write_opposite(line, by)
    deal(items={lot.item_id for lot in lots.values()}, by=by, locked=True)
