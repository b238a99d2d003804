"""Which bottles are clean, dirty, filled, lent or cracked, and who moved them?

Clean bottles are what the ledger has on hand; the other states are sums of append-only lines. An act
that makes bottles clean or takes clean ones away writes both in one go.
"""

import datetime as dt
import uuid
from collections.abc import Iterable, Mapping

from django.db import models, transaction
from django.db.models import Sum
from django.urls import reverse

from inventory import activity, clock, items, ledger
from inventory.dealing import deal
from inventory.editing import save_edit
from inventory.locks import lock_items, lock_lots
from inventory.models import (
    BottleType,
    CageType,
    CellarLine,
    ClosureType,
    Finish,
    GlassLine,
    GlassState,
    Item,
    Lot,
    Movement,
    Person,
    StoragePlace,
)
from inventory.models.items import Kind
from inventory.refusals import Refusal
from inventory.values import check_columns, check_day, check_edit, check_row

CLEAN = "clean"
OUTSIDE = ""
MOST = 100_000
PIECE = 1000
KINDS = {BottleType: Kind.BOTTLE, ClosureType: Kind.CLOSURE, CageType: Kind.CAGE}
# From where to where bottles go, and what that is called.
ACTS = {
    (OUTSIDE, GlassState.DIRTY): "Brought in dirty",
    (OUTSIDE, GlassState.FILLED): "Brought in filled",
    (GlassState.DIRTY, CLEAN): "Washed",
    (CLEAN, GlassState.DIRTY): "Found dirty",
    (CLEAN, GlassState.FILLED): "Filled",
    (GlassState.FILLED, GlassState.DIRTY): "Emptied",
    (CLEAN, GlassState.LENT): "Lent",
    (GlassState.FILLED, GlassState.LENT): "Gave away full",
    (GlassState.LENT, GlassState.DIRTY): "Got back dirty",
    (GlassState.LENT, CLEAN): "Got back clean",
    (CLEAN, GlassState.CRACKED): "Cracked",
    (GlassState.DIRTY, GlassState.CRACKED): "Cracked",
    (GlassState.FILLED, GlassState.CRACKED): "Cracked",
    (GlassState.LENT, GlassState.CRACKED): "Cracked",
    (GlassState.DIRTY, OUTSIDE): "Let go",
    (GlassState.FILLED, OUTSIDE): "Let go",
    (GlassState.LENT, OUTSIDE): "Let go",
    (GlassState.CRACKED, OUTSIDE): "Threw out",
}


def counts(items: Iterable[int]) -> dict[int, dict[str, int]]:
    """For each item how many pieces are in each state, clean ones first; two queries."""
    wanted = list(items)
    held = ledger.stock(wanted)
    found = {
        key: {CLEAN: held.get(key, 0) // PIECE} | dict.fromkeys(GlassState.values, 0)
        for key in wanted
    }
    rows = GlassLine.objects.filter(item__in=wanted).order_by()
    for key, state, count in rows.values_list("item", "state").annotate(Sum("change")):
        found[key][state] = count
    return found


@transaction.atomic
def describe(*, item: Item, model: type[models.Model], by: Person | None, **values):
    """Say what kind of bottle, closure or cage an item is; once for each item."""
    if item.kind != KINDS[model]:
        raise Refusal(f"{item} is not a {KINDS[model].label}.", field="item")
    row = model(item=item, **_checked(values))
    check_row(row)
    row.save(force_insert=True)
    activity.record(by=by, verb="add", subject=row, summary=f"Said what {item} is")
    return row


@transaction.atomic
def bring_kind(
    *,
    name: str,
    by: Person | None,
    clean: int = 0,
    dirty: int = 0,
    place: StoragePlace | None = None,
    on: dt.date | None = None,
    **said,
) -> Item:
    """A kind of bottle with what it is and how many there are, clean and dirty; all of it or nothing."""
    item = items.add_item(by=by, name=name, kind=Kind.BOTTLE, base="mpc", piece_word="bottle")
    describe(item=item, model=BottleType, by=by, **said)
    day = on or clock.today()
    if clean:
        ledger.receive(item=item, quantity=clean * PIECE, on=day, by=by, place=place)
    if dirty:
        move(item=item, count=dirty, source=OUTSIDE, target=GlassState.DIRTY, on=day, by=by)
    return item


@transaction.atomic
def edit_description(row: models.Model, *, version: int, values: dict, by: Person | None):
    """Change what is said of a bottle, closure or cage if nobody did since `version`."""
    check_edit(row, _checked(values))
    return save_edit(row, version=version, values=values, by=by)


def _checked(values: dict) -> dict:
    fits = values.get("fits", [Finish.CORK])
    if not fits or set(fits) - set(Finish.values):
        raise Refusal("Choose at least one mouth that it fits.", field="fits")
    return values


@transaction.atomic
def move(
    *,
    item: Item,
    count: int,
    source: str,
    target: str,
    on: dt.date,
    by: Person | None,
    place: StoragePlace | None = None,
    reason: str = "",
) -> list[GlassLine]:
    """Move bottles from one state to another, or in or out of the house.

    The lines, the ledger's and the promises on clean bottles change together, or nothing does;
    refuses more than there are. Can be undone.
    """
    lines = write_move(
        item=item,
        count=count,
        source=source,
        target=target,
        on=on,
        by=by,
        place=place,
        reason=reason,
    )
    activity.record(
        by=by,
        verb="glass",
        subject=lines[0],
        summary=f"{ACTS[source, target]}: {count} {item}{f', {reason}' if reason else ''}",
        link=item.get_absolute_url(),
        undo="glass.move",
        undo_data={"act": str(lines[0].act)},
    )
    return lines


@transaction.atomic
def wash_all(
    *, counts: Mapping[int, int], on: dt.date, by: Person | None, place: StoragePlace | None = None
) -> int:
    """One session at the sink: so many of each kind are clean now; all of them or none. Can be undone.

    Returns how many bottles were washed.
    """
    items = Item.objects.in_bulk([key for key, count in counts.items() if count])
    if not items:
        raise Refusal("Say how many were washed.", field=None)
    act = uuid.uuid4()
    for key, item in sorted(items.items()):
        write_move(
            item=item, count=counts[key], source=GlassState.DIRTY, target=CLEAN, on=on, by=by,
            place=place, act=act,
        )  # fmt: skip
    total = sum(counts[key] for key in items)
    first = GlassLine.objects.filter(act=act).order_by("pk")[0]
    activity.record(
        by=by,
        verb="glass",
        subject=first,
        summary=f"Washed {total} bottles",
        link=reverse("inventory:glass-list"),
        undo="glass.move",
        undo_data={"act": str(act)},
    )
    return total


def write_move(
    *,
    item: Item,
    count: int,
    source: str,
    target: str,
    on: dt.date,
    by: Person | None,
    place: StoragePlace | None = None,
    reason: str = "",
    act: uuid.UUID | None = None,
    of_cellar: bool = False,
) -> list[GlassLine]:
    """The lines of a move as part of a larger act; the caller is atomic and records.

    Bottles that lie in the cellar are moved by what happens to them there, `of_cellar`.
    """
    _refuse_bad(item, count, source, target, on)
    lock_items([item.pk])
    if source not in (CLEAN, OUTSIDE):
        _refuse_more_than_there_are(item, count, source)
    if source == GlassState.FILLED and not of_cellar:
        _refuse_bottles_of_the_cellar(item, count)
    line = {"act": act or uuid.uuid4(), "day": on, "by": by, "item": item, "reason": reason}
    lines = [
        GlassLine(state=state, change=sign * moved, movement=movement, **line)
        for moved, movement in _clean_side(item, count, source, target, place, on, by)
        for state, sign in ((source, -1), (target, 1))
        if state not in (CLEAN, OUTSIDE)
    ]
    for each in lines:
        check_columns(each, ["reason"])
        each.save(force_insert=True)
    deal(items=[item.pk], by=by, locked=True)
    return lines


def _refuse_bad(item: Item, count: int, source: str, target: str, on: dt.date) -> None:
    check_day(on, field="on")
    if item.kind != Kind.BOTTLE:
        raise Refusal(f"{item} is not a bottle.", field="item")
    if not 1 <= count <= MOST:
        raise Refusal(f"Write a whole number of bottles, 1 to {MOST}.", field="count")
    if (source, target) not in ACTS:
        raise Refusal(f"Bottles do not go from {source or 'outside'} to {target or 'outside'}.")


def _refuse_more_than_there_are(item: Item, count: int, state: str) -> None:
    held = counts([item.pk])[item.pk][state]
    if count > held:
        raise Refusal(f"{count} of {item} wanted, {held} are {state}.", field="count")


def _refuse_bottles_of_the_cellar(item: Item, count: int) -> None:
    laid = CellarLine.objects.filter(lot__item=item).aggregate(sum=Sum("change"))["sum"] or 0
    free = counts([item.pk])[item.pk][GlassState.FILLED] - laid
    if count > free:
        raise Refusal(
            f"{laid} of {item} lie in the cellar; open or give them there. {max(0, free)} others are "
            "filled.",
            field="count",
        )


def _clean_side(
    item: Item,
    count: int,
    source: str,
    target: str,
    place: StoragePlace | None,
    on: dt.date,
    by: Person | None,
) -> list[tuple[int, Movement | None]]:
    """What the ledger writes, as (bottles, its line); one pair for each lot that is taken from."""
    if target == CLEAN:
        words = ACTS[source, target].lower()
        line = ledger.bring_in(
            item=item, quantity=count * PIECE, on=on, by=by, place=place, origin=words
        )
        return [(count, line)]
    if source != CLEAN:
        return [(count, None)]
    takes = _clean_takes(item, count)
    lines = ledger.take_out(takes=takes, on=on, by=by, reason=ACTS[source, target].lower())
    return [(-line.quantity // PIECE, line) for line in lines]


def _clean_takes(item: Item, count: int) -> list[tuple[Lot, int]]:
    """Clean bottles from the lots, those that are promised to nobody first."""
    promised = set(Lot.objects.filter(item=item, reservations__isnull=False).values_list("pk"))
    lots = sorted(Lot.objects.filter(item=item).in_stock(), key=lambda lot: (lot.pk,) in promised)
    wanted, takes = count * PIECE, []
    for lot in lots:
        taken = min(wanted, lot.on_hand // PIECE * PIECE)
        if taken:
            takes.append((lot, taken))
            wanted -= taken
    if wanted:
        raise Refusal(
            f"{count} of {item} wanted, {count - wanted // PIECE} are clean.", field="count"
        )
    return takes


@activity.undoes("glass.move")
def _undo_recorded(data: dict, by: Person | None) -> None:
    undo_move(act=data["act"], by=by)


def undo_move(*, act: str, by: Person | None) -> None:
    """Write the opposite of every line of an act, the ledger's too; the caller is atomic."""
    lines = list(GlassLine.objects.filter(act=act, undoes=None).select_related("item", "movement"))
    if not lines or GlassLine.objects.filter(undoes__in=lines).exists():
        raise Refusal("This has been taken back already.")
    items = {line.item_id for line in lines}
    lock_items(items)
    for line in sorted(lines, key=lambda line: line.change):
        if line.change > 0:
            _refuse_more_than_there_are(line.item, line.change, line.state)
        more = {"act": line.act, "day": line.day, "by": by, "item": line.item}
        GlassLine.objects.create(state=line.state, change=-line.change, undoes=line, **more)
    for movement in {line.movement_id: line.movement for line in lines if line.movement}.values():
        lock_lots([movement.lot_id])
        ledger.write_opposite(movement, by)
    deal(items=items, by=by, locked=True)
