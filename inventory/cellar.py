"""Which bottles lie where, and what happened to each? The sums of append-only lines.

Glass, closures and cages move with them: an act writes all of its lines or none.
"""

import datetime as dt
import uuid
from collections.abc import Iterable

from django.db import transaction
from django.db.models import F, Sum

from inventory import activity, clock, glass, ledger, used_parts
from inventory.dealing import deal
from inventory.locks import lock_items, lock_lots
from inventory.models import (
    CellarLine,
    CellarLot,
    Fate,
    GlassState,
    Loan,
    Movement,
    Person,
    StoragePlace,
    UsedLot,
)
from inventory.refusals import Refusal
from inventory.shown import day_text
from inventory.values import check_columns, check_day, check_text

# Where the glass goes by what happened to the bottle.
GLASS = {
    Fate.OPENED: GlassState.DIRTY,
    Fate.TESTED: GlassState.DIRTY,
    Fate.DECANTED: GlassState.DIRTY,
    Fate.GIVEN: glass.OUTSIDE,
    Fate.BURST: GlassState.CRACKED,
    Fate.BROKEN: GlassState.CRACKED,
}
# Of these, what shut the bottle is in the house again.
PARTS_COME_BACK = (Fate.OPENED, Fate.TESTED, Fate.DECANTED)
SAID = {
    Fate.OPENED: "Opened",
    Fate.TESTED: "Opened as a test",
    Fate.GIVEN: "Gave away",
    Fate.BURST: "Burst",
    Fate.BROKEN: "Broken",
    Fate.DECANTED: "Poured over",
}


def held(lots: Iterable[CellarLot]) -> dict[int, dict[int | None, int]]:
    """By lot and place (none where no place is noted) how many bottles lie there; one query."""
    rows = CellarLine.objects.filter(lot__in=[lot.pk for lot in lots]).order_by()
    found: dict[int, dict[int | None, int]] = {}
    for lot, place, count in rows.values_list("lot", "place").annotate(Sum("change")):
        if count:
            found.setdefault(lot, {})[place] = count
    return found


def left(lot: CellarLot) -> int:
    """How many bottles of it are left; one query."""
    return lot.lines.aggregate(sum=Sum("change"))["sum"] or 0


@transaction.atomic
def take(
    *,
    lot: CellarLot,
    fate: str,
    count: int,
    on: dt.date,
    by: Person | None,
    place: StoragePlace | None = None,
    note: str = "",
    comes_back: bool = False,
) -> CellarLine:
    """Open, give away or lose bottles: the glass, cages and closures follow. Can be undone.

    Bottles given away whose glass `comes_back` are lent to whoever `note` names. A bottle that burst
    flags all others of the same drink.
    """
    if fate not in GLASS:
        raise Refusal(f"{fate!r} is nothing that happens to a bottle.", field="fate")
    if fate == Fate.GIVEN:
        check_text(note, field="note", says="Say to whom.")
    more = {"on": on, "by": by, "place": place, "note": note}
    lends = comes_back and fate == Fate.GIVEN
    line, rest = write_take(lot=lot, fate=fate, count=count, lends=lends, **more)
    data = {"act": str(line.act), **rest}
    if lends:
        loan = Loan.objects.create(item=line.lot.item, to=note[:80], count=count, lent=on)
        data["loan"] = loan.pk
    if fate == Fate.BURST:
        data["flagged"] = _flag_sisters(line.lot, on)
    activity.record(
        by=by,
        verb="bottle",
        subject=line,
        summary=f"{SAID[Fate(fate)]}: {count} {line.lot}{f', {note}' if note else ''}",
        undo="cellar.take",
        undo_data=data,
    )
    return line


def write_take(
    *,
    lot: CellarLot,
    fate: str,
    count: int,
    on: dt.date,
    by: Person | None,
    place: StoragePlace | None,
    note: str = "",
    lends: bool = False,
) -> tuple[CellarLine, dict]:
    """The lines of a taking as part of a larger act; what undoes it. The caller is atomic."""
    held_lot = _hold(lot, on)
    parts = (held_lot.item_id, held_lot.closure_id, held_lot.cage_id)
    lock_items([key for key in parts if key])
    _refuse_more_than_lie_there(held_lot, place, count)
    before = left(held_lot)
    line = write_line(held_lot, place, fate, -count, on, by, note=note)
    glass.write_move(
        item=held_lot.item,
        count=count,
        source=GlassState.FILLED,
        target=GlassState.LENT if lends else GLASS[Fate(fate)],
        on=on,
        by=by,
        reason=str(held_lot)[:200],
        act=line.act,
        of_cellar=True,
    )
    back = []
    if fate in PARTS_COME_BACK:
        back = _parts_back(held_lot, held_lot.filled - before, count, on, by)
    return line, {"movements": [move.pk for move in back]}


@transaction.atomic
def move(
    *,
    lot: CellarLot,
    count: int,
    source: StoragePlace | None,
    target: StoragePlace | None,
    on: dt.date,
    by: Person | None,
) -> list[CellarLine]:
    """Bottles from one place to another: two lines or none. Can be undone."""
    if source == target:
        raise Refusal("They lie there already.", field="target")
    held_lot = _hold(lot, on)
    _refuse_more_than_lie_there(held_lot, source, count)
    act = uuid.uuid4()
    lines = [
        write_line(held_lot, source, Fate.MOVED, -count, on, by, act=act),
        write_line(held_lot, target, Fate.MOVED, count, on, by, act=act),
    ]
    activity.record(
        by=by,
        verb="move",
        subject=lines[0],
        summary=f"Moved {count} {held_lot} to {target or 'no place noted'}",
        undo="cellar.move",
        undo_data={"act": str(act)},
    )
    return lines


def _hold(lot: CellarLot, on: dt.date) -> CellarLot:
    check_day(on, field="on")
    if on > clock.today():
        raise Refusal(f"{day_text(on)} is still to come.", field="on")
    rows = CellarLot.objects.select_for_update(of=("self",)).select_related(
        "item", "closure", "cage"
    )
    found = rows.get(pk=lot.pk)
    if on < found.bottled:
        raise Refusal(f"They were filled on {day_text(found.bottled)}.", field="on")
    return found


def _refuse_more_than_lie_there(lot: CellarLot, place: StoragePlace | None, count: int) -> None:
    if count < 1:
        raise Refusal("Write a whole number of bottles, 1 or more.", field="count")
    rows = CellarLine.objects.filter(lot=lot, place=place)
    there = rows.aggregate(sum=Sum("change"))["sum"] or 0
    if count > there:
        where = f"at {place}" if place else "without a place"
        raise Refusal(f"{count} of {lot} wanted, {there} lie {where}.", field="count")


def write_line(
    lot: CellarLot,
    place: StoragePlace | None,
    fate: str,
    change: int,
    on: dt.date,
    by: Person | None,
    *,
    act: uuid.UUID | None = None,
    note: str = "",
) -> CellarLine:
    """One line as part of a larger act."""
    row = CellarLine(lot=lot, place=place, fate=fate, change=change, day=on, by=by, note=note)
    row.act = act or uuid.uuid4()
    check_columns(row, ["note"])
    row.save(force_insert=True)
    return row


def _parts_back(
    lot: CellarLot, skip: int, count: int, on: dt.date, by: Person | None
) -> list[Movement]:
    lines = []
    for name in ("closure", "cage"):
        item, runs = getattr(lot, name), lot.parts.get(name, [])
        if item is None:
            continue
        lock_items([item.pk])
        older = used_parts.part_of(runs, skip=skip, count=count)
        lines += used_parts.come_back(item=item, runs=older, on=on, by=by, origin=f"off {lot.mark}")
        deal(items=[item.pk], by=by, locked=True)
    return lines


def _flag_sisters(lot: CellarLot, on: dt.date) -> list[int]:
    words = (
        f"a bottle of it burst on {day_text(on)}: goggles and gloves on, chill them, open them cold"
    )
    rows = CellarLot.objects.filter(origin=lot.origin, flagged="")
    keys = list(rows.values_list("pk", flat=True))
    rows.filter(pk__in=keys).update(flagged=words[:200])
    return keys


@activity.undoes("cellar.take")
def undo_take(data: dict, by: Person | None) -> None:
    """Take a taking back, also as part of a larger act."""
    lines = list(CellarLine.objects.filter(act=data["act"], undoes=None))
    loans = Loan.objects.filter(pk=data.get("loan"))
    if loans.filter(returned__gt=0).exists():
        raise Refusal("Some of the glass came back already; undo that first.")
    write_opposites(lines, by)
    loans.update(returned=F("count"), version=F("version") + 1)
    glass.undo_move(act=data["act"], by=by)
    for move in Movement.objects.filter(pk__in=data["movements"]):
        UsedLot.objects.filter(lot=move.lot_id).delete()
    return_lines(data["movements"], by)
    CellarLot.objects.filter(pk__in=data.get("flagged", [])).update(flagged="")


@activity.undoes("cellar.move")
def _undo_move(data: dict, by: Person | None) -> None:
    lines = list(CellarLine.objects.filter(act=data["act"], undoes=None).order_by("change"))
    for line in lines:
        if line.change > 0:
            _refuse_more_than_lie_there(line.lot, line.place, line.change)
    write_opposites(lines, by)


def write_opposites(lines: list[CellarLine], by: Person | None) -> None:
    """Take lines back; the caller is atomic."""
    if not lines or CellarLine.objects.filter(undoes__in=lines).exists():
        raise Refusal("This has been taken back already.")
    for line in lines:
        same = {"lot": line.lot, "place": line.place, "fate": line.fate, "day": line.day}
        CellarLine.objects.create(change=-line.change, act=line.act, by=by, undoes=line, **same)


def return_lines(keys: Iterable[int], by: Person | None) -> None:
    """Write the opposite of lines of the ledger; the caller is atomic."""
    moves = list(Movement.objects.filter(pk__in=list(keys)).select_related("lot").order_by("-pk"))
    lock_items({move.lot.item_id for move in moves})
    for move in moves:
        lock_lots([move.lot_id])
        ledger.write_opposite(move, by)
    deal(items={move.lot.item_id for move in moves}, by=by, locked=True)
