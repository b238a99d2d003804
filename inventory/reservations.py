"""Which lot is put by for which need, and what is used when the need comes due?"""

import datetime as dt
from collections.abc import Iterable

from django.db import transaction
from django.db.models import Sum

from inventory import activity, ledger
from inventory.dealing import deal
from inventory.events import last_day
from inventory.ledger import said
from inventory.locks import lock_items, lock_lots
from inventory.models import Lot, Movement, Person, Requirement, Reservation
from inventory.outstanding import open_need
from inventory.refusals import Refusal
from inventory.values import check_quantity

__all__ = ["consume", "deal", "give_back", "release", "reserve", "spoken_for"]

Take = tuple[Lot, int]


def spoken_for(items: Iterable[int]) -> dict[int, int]:
    """How much of each item is promised; one query."""
    rows = Reservation.objects.filter(lot__item__in=list(items)).order_by()
    return dict(rows.values_list("lot__item").annotate(Sum("quantity")))


def spoken_for_of(lot: Lot) -> int:
    """How much of one lot is promised; one query."""
    return lot.reservations.aggregate(total=Sum("quantity"))["total"] or 0


@transaction.atomic
def reserve(*, lot: Lot, requirement: Requirement, quantity: int, by: Person | None) -> Reservation:
    """Put part of a lot by for a need by hand, in place of what was dealt; it stays there.

    Refuses more than the need asks for, than the lot has free of other promises made by hand, or a lot
    past its date on the day. Atomic, can be undone.
    """
    check_quantity(quantity)
    held = lock_lots([lot.pk])[lot.pk]
    need = open_need(requirement, held.item_id)
    others = Reservation.objects.filter(by_hand=True).exclude(lot=held, requirement=need)
    _check_lot(held, need, quantity, others.filter(lot=held))
    _check_need(held, need, quantity, others.filter(requirement=need))
    row, _ = Reservation.objects.update_or_create(
        lot=held, requirement=need, defaults={"quantity": quantity, "by_hand": True}
    )
    deal(items=[held.item_id], by=by, locked=True)
    activity.record(
        by=by,
        verb="reserve",
        subject=held,
        summary=f"Put by {said(held.item, quantity)} of {held.item} ({held.mark}) for {need}",
        undo="reservations.reserve",
        undo_data={"reservation": row.pk},
    )
    return row


@transaction.atomic
def release(*, reservation: Reservation, by: Person | None) -> None:
    """Take back what was put by by hand; the lot is dealt anew. Atomic, can be undone."""
    held = lock_lots([reservation.lot_id])[reservation.lot_id]
    row = Reservation.objects.filter(pk=reservation.pk, by_hand=True).first()
    if row is None:
        raise Refusal("This is not put by by hand any more.")
    row.delete()
    need = reservation.requirement
    deal(items=[held.item_id], by=by, locked=True)
    activity.record(
        by=by,
        verb="release",
        subject=held,
        summary=f"{held.item} ({held.mark}) is no longer put by for {need}",
        undo="reservations.release",
        undo_data={"lot": held.pk, "requirement": need.pk, "quantity": row.quantity},
    )


@transaction.atomic
def consume(
    *,
    requirement: Requirement,
    by: Person | None,
    on: dt.date,
    takes: Iterable[Take] | None = None,
    allow_less: bool = False,
    quiet: bool = False,
) -> list[Movement]:
    """Use what is put by for a need, or what `takes` says, and close the need as met.

    Without `takes`, what is put by is topped up from what nobody was promised; if that is not enough it
    refuses, or with allow_less uses what there is; a need for which nothing was used is withdrawn.
    All lines and the closed need, or none. Can be undone; quiet leaves the record to the caller.
    """
    lock_items([requirement.item_id])
    need = open_need(requirement, requirement.item_id)
    chosen = _offered(need, on) if takes is None else [take for take in takes if take[1]]
    if takes is None and not allow_less:
        _check_enough(need, sum(quantity for _, quantity in chosen))
    lines = ledger.issue_for(requirement=need, takes=chosen, on=on, by=by)
    state = Requirement.State.MET if lines else Requirement.State.WITHDRAWN
    Requirement.objects.filter(pk=need.pk).update(state=state)
    deal(items=[need.item_id], by=by, locked=True)
    if not quiet:
        _record_use(need, lines, by)
    return lines


@transaction.atomic
def give_back(*, requirement: Requirement, movements: Iterable[int], by: Person | None) -> None:
    """The opposite of consume, given the keys of its lines: they are taken back, the need is open again."""
    lock_items([requirement.item_id])
    closed = Requirement.objects.filter(pk=requirement.pk).exclude(state=Requirement.State.OPEN)
    if not closed.update(state=Requirement.State.OPEN):
        raise Refusal(f"{requirement} is open already.")
    lines = Movement.objects.filter(pk__in=list(movements)).order_by("pk")
    lock_lots(line.lot_id for line in lines)
    for line in lines:
        ledger.write_opposite(line, by)
    deal(items=[requirement.item_id], by=by, locked=True)


@activity.undoes("reservations.reserve")
def _undo_reserve(data: dict, by: Person | None) -> None:
    row = Reservation.objects.filter(pk=data["reservation"], by_hand=True).first()
    if row is None:
        raise Refusal("This is not put by by hand any more.")
    lock_lots([row.lot_id])
    row.delete()
    deal(items=[row.lot.item_id], by=by, locked=True)


@activity.undoes("reservations.release")
def _undo_release(data: dict, by: Person | None) -> None:
    lot = Lot.objects.get(pk=data["lot"])
    need = Requirement.objects.get(pk=data["requirement"])
    reserve(lot=lot, requirement=need, quantity=data["quantity"], by=by)


@activity.undoes("reservations.consume")
def _undo_consume(data: dict, by: Person | None) -> None:
    need = Requirement.objects.get(pk=data["requirement"])
    give_back(requirement=need, movements=data["movements"], by=by)


def _check_lot(lot: Lot, need: Requirement, quantity: int, others) -> None:
    free = ledger.on_hand(lot) - _total(others)
    if quantity > free:
        raise Refusal(
            f"{said(lot.item, quantity)} wanted, {said(lot.item, free)} free in {lot.mark}.",
            field="quantity",
        )
    if not _is_good_on(lot, need.day):
        raise Refusal(f"{lot.mark} is past its date on the day of {need}.", field="lot")


def _check_need(lot: Lot, need: Requirement, quantity: int, others) -> None:
    lacking = need.quantity - _total(others)
    if quantity > lacking:
        raise Refusal(f"{need} asks for no more than {said(lot.item, lacking)}.", field="quantity")


def _total(rows) -> int:
    return rows.aggregate(total=Sum("quantity"))["total"] or 0


def _is_good_on(lot: Lot, day: dt.date) -> bool:
    use_by, opened = (date.toordinal() if date else 0 for date in (lot.use_by, lot.opened))
    last = last_day(use_by, opened, lot.item.shelf_days_opened)
    return not last or last >= day.toordinal()


def _offered(need: Requirement, on: dt.date) -> list[Take]:
    """What is put by for the need, then what is free of promises, first expired first."""
    lots = Lot.objects.in_stock().filter(item=need.item_id).select_related("item")
    promised = dict(
        Reservation.objects.filter(lot__item=need.item_id)
        .exclude(requirement=need)
        .order_by()
        .values_list("lot")
        .annotate(Sum("quantity"))
    )
    own = dict(need.reservations.values_list("lot", "quantity"))
    takes = {lot: own.get(lot.pk, 0) for lot in lots}
    lacking = need.quantity - sum(takes.values())
    for lot in lots:
        free = min(lacking, lot.on_hand - promised.get(lot.pk, 0) - takes[lot])
        if free > 0 and _is_good_on(lot, on):
            takes[lot] += free
            lacking -= free
    return [take for take in takes.items() if take[1]]


def _check_enough(need: Requirement, there: int) -> None:
    if there < need.quantity:
        item = need.item
        raise Refusal(
            f"{need} asks for {said(item, need.quantity)} of {item}; {said(item, there)} is there"
            " for it. Receive more, or say what was used."
        )


def _record_use(need: Requirement, lines: list[Movement], by: Person | None) -> None:
    used = -sum(line.quantity for line in lines)
    activity.record(
        by=by,
        verb="use",
        subject=need,
        summary=f"Used {said(need.item, used)} of {need.item} for {need}",
        undo="reservations.consume",
        undo_data={"requirement": need.pk, "movements": [line.pk for line in lines]},
    )
