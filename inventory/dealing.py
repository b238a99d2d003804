"""Which lot is promised to which need? Dealt anew after every change of what an item has or needs."""

from collections import Counter
from collections.abc import Iterable

from django.db import transaction

from inventory import activity, clock
from inventory.events import Store
from inventory.locks import lock_items
from inventory.measures import format_quantity
from inventory.models import Person, Requirement, Reservation

Pair = tuple[int, int]


@transaction.atomic(savepoint=False)
def deal(*, items: Iterable[int], by: Person | None = None, locked: bool = False) -> int:
    """Promise lots to open needs exactly as netting takes them: earliest need first, first expired first.

    Only rows that differ are touched; returns how many. What was put by by hand stays, as far as its lot
    still holds it and is good on the day. Holds the items, unless the caller does and says so, and thus
    the last of several writers deals for all.
    """
    items = set(items)
    if not locked:
        lock_items(items)
    held = list(Reservation.objects.filter(lot__item__in=items).order_by("pk"))
    if not held and not _is_anything_needed(items):
        return 0
    by_hand = [row for row in held if row.by_hand]
    wanted = _taken(items, has_pins=bool(by_hand))
    changed = _trim_by_hand(by_hand, wanted, by)
    return changed + _replace([row for row in held if not row.by_hand], wanted)


def _is_anything_needed(items: set[int]) -> bool:
    return Requirement.objects.filter(item__in=items, state=Requirement.State.OPEN).exists()


def _taken(items: set[int], *, has_pins: bool) -> Counter[Pair]:
    """By (need, lot), how much netting takes."""
    wanted: Counter[Pair] = Counter()
    for _, answer in Store(today=clock.today(), items=items, has_pins=has_pins).net():
        for need, lot, quantity in answer.taken:
            wanted[need, lot] += quantity
    return wanted


def _trim_by_hand(rows: list[Reservation], wanted: Counter[Pair], by: Person | None) -> int:
    """Take what was put by by hand out of `wanted`; lower what no longer holds, and say so."""
    changed = 0
    for row in rows:
        holds = min(row.quantity, wanted.pop((row.requirement_id, row.lot_id), 0))
        if holds < row.quantity:
            changed += 1
            _lower(row, holds, by)
    return changed


def _lower(row: Reservation, holds: int, by: Person | None) -> None:
    lot, need = row.lot, row.requirement
    lost = format_quantity(row.quantity - holds, base=lot.item.base, unit=lot.item.piece_word)
    if need.state == Requirement.State.OPEN:
        activity.record(
            by=by,
            verb="release",
            subject=lot,
            summary=f"{lost} of {lot.item} ({lot.mark}) could not stay put by for {need}",
        )
    if holds:
        Reservation.objects.filter(pk=row.pk).update(quantity=holds)
    else:
        row.delete()


def _replace(rows: list[Reservation], wanted: Counter[Pair]) -> int:
    stale = []
    for row in rows:
        pair = row.requirement_id, row.lot_id
        if wanted.get(pair) == row.quantity:
            del wanted[pair]
        else:
            stale.append(row.pk)
    if stale:
        Reservation.objects.filter(pk__in=stale).delete()
    fresh = [
        Reservation(requirement_id=need, lot_id=lot, quantity=quantity)
        for (need, lot), quantity in wanted.items()
    ]
    Reservation.objects.bulk_create(fresh)
    return len(stale) + len(fresh)
