"""What is needed, how much of it, on which day and for what?"""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from django.db import transaction

from inventory import activity
from inventory.dealing import deal
from inventory.ledger import said
from inventory.locks import lock_items
from inventory.models import Item, Person, Requirement
from inventory.refusals import Refusal
from inventory.values import check_columns, check_day, check_quantity, check_text

State = Requirement.State


@dataclass(frozen=True)
class Need:
    """One dated need before it is written down; origin is the key of whoever made it."""

    item: Item
    quantity: int
    day: dt.date
    label: str
    origin: str = ""
    link: str = ""


@transaction.atomic
def need(
    *,
    item: Item,
    quantity: int,
    day: dt.date,
    label: str,
    by: Person | None,
    origin: str = "",
    link: str = "",
    quiet: bool = False,
) -> Requirement:
    """Write down one need and promise it what is there; quiet leaves the record to the caller."""
    wanted = Need(item, quantity, day, label, origin, link)
    return need_all(needs=[wanted], by=by, quiet=quiet)[0]


@transaction.atomic
def need_all(*, needs: Sequence[Need], by: Person | None, quiet: bool = False) -> list[Requirement]:
    """Write down many needs, in the order given, and deal once; all or none."""
    rows = [_checked(wanted) for wanted in needs]
    items = {row.item_id for row in rows}
    lock_items(items)
    Requirement.objects.bulk_create(rows)
    deal(items=items, by=by, locked=True)
    if rows and not quiet:
        _record(rows, by, "need", "Needed", undo="requirements.need")
    return rows


@transaction.atomic
def withdraw(
    *, requirements: Iterable[Requirement], by: Person | None, quiet: bool = False
) -> list[Requirement]:
    """Nobody needs these any more; returns those that were open. What was promised becomes free."""
    rows = _change(requirements, State.OPEN, State.WITHDRAWN, by)
    if quiet:
        return rows
    if not rows:
        raise Refusal("What is met or withdrawn already cannot be withdrawn.")
    _record(rows, by, "withdraw", "Not needed any more", undo="requirements.withdraw")
    return rows


@transaction.atomic
def reinstate(
    *, requirements: Iterable[Requirement], by: Person | None, quiet: bool = False
) -> list[Requirement]:
    """Need again what was withdrawn; returns those that were."""
    rows = _change(requirements, State.WITHDRAWN, State.OPEN, by)
    if rows and not quiet:
        _record(rows, by, "need", "Needed again", undo="requirements.need")
    return rows


@transaction.atomic
def move(*, moves: Mapping[int, dt.date], by: Person | None, quiet: bool = False) -> int:
    """Need these on other days; only open ones move. Returns how many did."""
    rows = _hold(moves)
    moved = [row for row in rows if row.state == State.OPEN and row.day != moves[row.pk]]
    if not moved:
        return 0
    former = {row.pk: row.day.isoformat() for row in moved}
    keys_by_day = defaultdict(list)
    for row in moved:
        row.day = moves[row.pk]
        check_day(row.day, field="day")
        keys_by_day[row.day].append(row.pk)
    for day, keys in keys_by_day.items():
        Requirement.objects.filter(pk__in=keys).update(day=day)
    deal(items={row.item_id for row in moved}, by=by, locked=True)
    if not quiet:
        _record(moved, by, "move", "Moved", undo="requirements.move", days=former)
    return len(moved)


@transaction.atomic
def resize(*, sizes: Mapping[int, int], by: Person | None) -> None:
    """Need other amounts of these; only open ones change. Leaves the record to the caller."""
    rows = [row for row in _hold(sizes) if row.state == State.OPEN]
    for row in rows:
        row.quantity = sizes[row.pk]
        check_quantity(row.quantity)
    Requirement.objects.bulk_update(rows, ["quantity"])
    deal(items={row.item_id for row in rows}, by=by, locked=True)


@transaction.atomic
def relabel(*, labels: Mapping[int, str]) -> None:
    """Call needs by another name, whatever became of them; leaves the record to the caller."""
    rows = list(Requirement.objects.filter(pk__in=list(labels)))
    for row in rows:
        row.label = labels[row.pk]
        check_columns(row, ["label"])
    Requirement.objects.bulk_update(rows, ["label"])


@activity.undoes("requirements.need")
def _undo_need(data: dict, by: Person | None) -> None:
    if len(_change(_found(data), State.OPEN, State.WITHDRAWN, by)) < len(data["requirements"]):
        raise Refusal("Some of it is met or withdrawn by now.")


@activity.undoes("requirements.withdraw")
def _undo_withdraw(data: dict, by: Person | None) -> None:
    if len(_change(_found(data), State.WITHDRAWN, State.OPEN, by)) < len(data["requirements"]):
        raise Refusal("Some of it is needed again already.")


@activity.undoes("requirements.move")
def _undo_move(data: dict, by: Person | None) -> None:
    days = {int(key): dt.date.fromisoformat(day) for key, day in data["days"].items()}
    move(moves=days, by=by, quiet=True)


def _checked(wanted: Need) -> Requirement:
    check_quantity(wanted.quantity)
    check_day(wanted.day, field="day")
    check_text(wanted.label, field="label", says="Say what it is needed for.")
    row = Requirement(
        item=wanted.item,
        quantity=wanted.quantity,
        day=wanted.day,
        label=wanted.label,
        origin=wanted.origin,
        link=wanted.link,
    )
    check_columns(row, ["label", "origin", "link"])
    return row


def _hold(keys: Iterable[int]) -> list[Requirement]:
    """These needs as they now stand, their items held."""
    rows = Requirement.objects.filter(pk__in=list(keys))
    lock_items(rows.values_list("item_id", flat=True))
    return list(rows.select_related("item").order_by("pk"))


def _change(
    requirements: Iterable[Requirement], before: State, after: State, by: Person | None
) -> list[Requirement]:
    rows = [row for row in _hold(row.pk for row in requirements) if row.state == before]
    Requirement.objects.filter(pk__in=[row.pk for row in rows]).update(state=after)
    for row in rows:
        row.state = after
    deal(items={row.item_id for row in rows}, by=by, locked=True)
    return rows


def _found(data: dict) -> list[Requirement]:
    return list(Requirement.objects.filter(pk__in=data["requirements"]))


def _record(
    rows: Sequence[Requirement], by: Person | None, verb: str, lead: str, *, undo: str, **more
) -> None:
    first = rows[0]
    summary = f"{lead}: {said(first.item, first.quantity)} of {first.item} for {first}"
    if len(rows) > 1:
        summary = f"{lead}: {len(rows)} things, {first.item} for {first} among them"
    data = {"requirements": [row.pk for row in rows], **more}
    activity.record(by=by, verb=verb, subject=first, summary=summary, undo=undo, undo_data=data)
