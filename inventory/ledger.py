"""Who may change stock? Only these functions: nothing else writes lots or the lines that move them."""

import datetime as dt
from collections.abc import Iterable
from itertools import islice

from django.db import IntegrityError, transaction
from django.db.models import Sum

from inventory import activity, clock, outstanding
from inventory.dealing import deal
from inventory.editing import save_edit
from inventory.locks import lock_items, lock_lots
from inventory.marks import free_marks
from inventory.measures import format_quantity
from inventory.models import (
    Activity,
    Item,
    Lot,
    Movement,
    Person,
    Receipt,
    Requirement,
    StoragePlace,
)
from inventory.refusals import Refusal
from inventory.values import check_columns, check_day, check_edit, check_quantity, check_text

Kind = Movement.Kind


def on_hand(lot: Lot) -> int:
    return Movement.objects.filter(lot=lot).aggregate(held=Sum("quantity"))["held"] or 0


def stock(items: Iterable[int] | None = None) -> dict[int, int]:
    """What is in the house, by item; one query."""
    lines = Movement.objects.order_by()
    if items is not None:
        lines = lines.filter(lot__item__in=items)
    return dict(lines.values_list("lot__item_id").annotate(Sum("quantity")))


def said(item: Item, quantity: int) -> str:
    return format_quantity(quantity, base=item.base, unit=item.piece_word or None)


@transaction.atomic
def receive(
    *,
    item: Item,
    quantity: int,
    on: dt.date,
    by: Person | None,
    place: StoragePlace | None = None,
    use_by: dt.date | None = None,
    origin: str = "",
    cost: int | None = None,
    mark: str = "",
    receipt: Receipt | None = None,
) -> Lot:
    """Take a quantity into the house as a new lot.

    The lot, its first line and what the receipt still expects change together, or nothing does.
    """
    check_quantity(quantity)
    lock_items([item.pk])
    expected = outstanding.expected(receipt, item) if receipt else None
    line = bring_in(
        item=item,
        quantity=quantity,
        on=on,
        by=by,
        place=place,
        use_by=use_by,
        origin=origin,
        cost=cost,
        mark=mark,
    )
    lot = line.lot
    booked = outstanding.book_in(expected, lot, quantity) if expected else {}
    deal(items=[item.pk], by=by, locked=True)
    _record(line, by, f"Received {said(item, quantity)} of {item} ({lot.mark})", **booked)
    return lot


@transaction.atomic
def issue(
    *,
    lot: Lot,
    quantity: int,
    on: dt.date,
    by: Person | None,
    requirement: Requirement | None = None,
    reason: str = "",
) -> Movement:
    """Use some of a lot, for a need if one is given; refuses below zero.

    The line, what the need still asks for and the promises change together, or nothing does.
    """
    check_quantity(quantity)
    held = lock_lots([lot.pk])[lot.pk]
    need = outstanding.open_need(requirement, held.item_id) if requirement else None
    line = _write(held, -quantity, Kind.ISSUE, on=on, by=by, requirement=need, reason=reason)
    covered = outstanding.ask_less(need, quantity) if need else {}
    whither = f" for {need}" if need else ""
    deal(items=[held.item_id], by=by, locked=True)
    _record(
        line,
        by,
        f"Used {said(held.item, quantity)} of {held.item} ({held.mark}){whither}",
        **covered,
    )
    return line


def issue_for(
    *, requirement: Requirement, takes: list[tuple[Lot, int]], on: dt.date, by: Person | None
) -> list[Movement]:
    """Use some of several lots for one need; the caller closes the need, deals and records."""
    if any(lot.item_id != requirement.item_id for lot, _ in takes):
        raise Refusal(f"{requirement} asks for something else.")
    return take_out(takes=takes, on=on, by=by, requirement=requirement)


def take_out(
    *,
    takes: list[tuple[Lot, int]],
    on: dt.date,
    by: Person | None,
    requirement: Requirement | None = None,
    reason: str = "",
) -> list[Movement]:
    """Use some of several lots as part of a larger act; the caller deals and records."""
    lots = lock_lots(lot.pk for lot, _ in takes)
    lines = []
    for lot, quantity in takes:
        check_quantity(quantity)
        line = _write(
            lots[lot.pk],
            -quantity,
            Kind.ISSUE,
            on=on,
            by=by,
            requirement=requirement,
            reason=reason,
        )
        lines.append(line)
    return lines


def bring_in(
    *,
    item: Item,
    quantity: int,
    on: dt.date,
    by: Person | None,
    place: StoragePlace | None = None,
    use_by: dt.date | None = None,
    origin: str = "",
    cost: int | None = None,
    mark: str = "",
) -> Movement:
    """A new lot as part of a larger act; the caller holds the item, deals and records.

    Without a day of its own it keeps as long as the item does unopened.
    """
    check_quantity(quantity)
    if use_by is None and item.shelf_days_sealed is not None:
        use_by = on + dt.timedelta(days=item.shelf_days_sealed)
    lot = Lot(item=item, received=on, use_by=use_by, place=place, origin=origin, cost=cost)
    _mark_and_save(lot, mark)
    return _write(lot, quantity, Kind.RECEIVE, on=on, by=by)


@transaction.atomic
def adjust(*, lot: Lot, quantity: int, on: dt.date, by: Person | None, reason: str) -> Movement:
    """Put a lot right by a signed quantity, with the reason; refuses below zero."""
    check_quantity(abs(quantity))
    check_text(reason, field="reason", says="Say why the lot is put right.")
    held = lock_lots([lot.pk])[lot.pk]
    line = _write(held, quantity, Kind.ADJUST, on=on, by=by, reason=reason)
    more = f"{said(held.item, abs(quantity))} {'more' if quantity > 0 else 'less'}"
    deal(items=[held.item_id], by=by, locked=True)
    _record(line, by, f"Adjusted {held.item} ({held.mark}): {more}, {reason}")
    return line


@transaction.atomic
def throw_out(
    *, lot: Lot, quantity: int | None = None, on: dt.date, by: Person | None, reason: str
) -> Movement:
    """Throw out some of a lot, or all that is left of it, with the reason."""
    check_text(reason, field="reason", says="Say why it is thrown out.")
    held = lock_lots([lot.pk])[lot.pk]
    gone = on_hand(held) if quantity is None else quantity
    if quantity is None and not gone:
        raise Refusal(f"Nothing is left of {held.mark}.")
    check_quantity(gone)
    line = _write(held, -gone, Kind.ADJUST, on=on, by=by, reason=f"thrown out: {reason}")
    deal(items=[held.item_id], by=by, locked=True)
    _record(line, by, f"Threw out {said(held.item, gone)} of {held.item} ({held.mark}): {reason}")
    return line


@transaction.atomic
def count(
    *, lot: Lot, counted: int, on: dt.date, by: Person | None, reason: str = ""
) -> Movement | None:
    """Set a lot to what was counted; None if the ledger says the same."""
    check_quantity(counted, least=0, field="counted")
    held = lock_lots([lot.pk])[lot.pk]
    difference = counted - on_hand(held)
    found = f"Counted {held.item} ({held.mark}): {said(held.item, counted)}"
    if not difference:
        activity.record(by=by, verb="count", subject=held, summary=f"{found}, as recorded")
        return None
    line = _write(held, difference, Kind.COUNT, on=on, by=by, reason=reason)
    more = (
        f"{said(held.item, abs(difference))} {'more' if difference > 0 else 'less'} than recorded"
    )
    deal(items=[held.item_id], by=by, locked=True)
    _record(line, by, f"{found}, {more}")
    return line


@transaction.atomic
def edit_lot(lot: Lot, *, version: int, values: dict, by: Person | None) -> Lot:
    """Change what is written on a lot: its place, dates, mark, cost; never its item."""
    lock_items([lot.item_id])
    check_edit(lot, values)
    edited = save_edit(
        lot, version=version, values=values, by=by, summary=f"Changed lot {lot.mark}"
    )
    deal(items=[lot.item_id], by=by, locked=True)
    return edited


@transaction.atomic
def undo(*, movement: Movement, by: Person | None) -> Movement:
    """Write the opposite line, once, and whatever went with the line; refuses below zero."""
    left = Activity.objects.filter(model=Movement._meta.label, object_id=movement.pk)
    if latest := left.exclude(undo="").first():
        activity.undo(activity=latest, by=by)
    else:
        _undo_alone(movement, by)
    return Movement.objects.get(undoes=movement)


def _undo_alone(movement: Movement, by: Person | None) -> None:
    met = Requirement.objects.filter(pk=movement.requirement_id, state=Requirement.State.MET)
    if need := met.first():
        raise Refusal(f"This was used for {need}; undo that as a whole.")
    lot = lock_lots([movement.lot_id])[movement.lot_id]
    line = write_opposite(movement, by)
    deal(items=[lot.item_id], by=by, locked=True)
    _record(line, by, f"Took back: {movement.get_kind_display()} {said(lot.item, line.quantity)}")


@activity.undoes("ledger.line")
def _undo_recorded(data: dict, by: Person | None) -> None:
    line = Movement.objects.select_related("lot").get(pk=data["movement"])
    lock_lots([line.lot_id])
    write_opposite(line, by)
    if "receipt" in data:
        outstanding.expect_again(data["receipt"], data["booked"])
    if "requirement" in data:
        outstanding.ask_again(data["requirement"], data["covered"])
    deal(items=[line.lot.item_id], by=by, locked=True)


def write_opposite(line: Movement, by: Person | None) -> Movement:
    """The line that takes another back; the caller holds the lot."""
    if line.kind == Kind.UNDO:
        raise Refusal("This line takes another back already; write it anew instead.")
    if Movement.objects.filter(undoes=line).exists():
        raise Refusal("This has been taken back already.")
    lot = Lot.objects.select_related("item").get(pk=line.lot_id)
    return _write(lot, -line.quantity, Kind.UNDO, on=clock.today(), by=by, undoes=line)


def _write(
    lot: Lot, quantity: int, kind: Kind, *, on: dt.date, by: Person | None, **more
) -> Movement:
    """The only place where a line is written; the caller holds the lot."""
    check_day(on, field="on")
    line = Movement(lot=lot, quantity=quantity, kind=kind, day=on, by=by, **more)
    check_columns(line, ["reason"])
    if quantity < 0 and (held := on_hand(lot)) + quantity < 0:
        item = lot.item
        raise Refusal(
            f"{said(item, -quantity)} of {item} wanted, {said(item, held)} in {lot.mark}.",
            field="quantity",
        )
    line.save(force_insert=True)
    return line


def _record(line: Movement, by: Person | None, summary: str, **more) -> None:
    undone_by = {} if line.kind == Kind.UNDO else {"undo": "ledger.line"}
    activity.record(
        by=by,
        verb=line.kind,
        subject=line,
        summary=summary,
        link=line.lot.get_absolute_url(),
        undo_data={"movement": line.pk, **more},
        **undone_by,
    )


def _mark_and_save(lot: Lot, mark: str) -> None:
    check_day(lot.received, field="on")
    check_day(lot.use_by, field="use_by")
    check_quantity(lot.cost or 0, least=0, field="cost")
    lot.mark = mark
    check_columns(lot, ["origin", *(["mark"] if mark else [])])
    if mark and Lot.objects.filter(mark=mark).exists():
        raise Refusal(f"Another lot is marked {mark}.", field="mark")
    for free in [mark] if mark else islice(free_marks(lot.item), 50):
        lot.mark = free
        try:
            with transaction.atomic():
                lot.save(force_insert=True)
            return
        except IntegrityError:
            lot.pk = None
    raise Refusal("No free mark was found for the lot; write one.", field="mark")
