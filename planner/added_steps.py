"""A step that no recipe foresaw, once or several times over."""

import datetime as dt

from django.db import transaction
from django.utils import timezone

from inventory import activity
from inventory.models import Person
from inventory.refusals import Refusal
from inventory.shown import day_text
from inventory.values import check_columns, check_day, check_text
from planner.models import Batch, Step
from planner.progress import ENDED
from planner.steps import hold, write

MOST_TIMES = 60
MOST_APART = 90


@transaction.atomic
def add_steps(
    *,
    batch: Batch,
    title: str,
    day: dt.date,
    by: Person | None,
    notes: str = "",
    times: int = 1,
    every: int = 1,
) -> list[Step]:
    """Put a step into a batch, so many times and so many days apart; each keeps its day.

    It stands among the others by its day; no other step moves. Atomic, can be undone.
    """
    check_text(title, field="title", says="Say what is to be done.")
    check_day(day, field="day")
    if not 1 <= times <= MOST_TIMES:
        raise Refusal(f"So often: 1 to {MOST_TIMES} times.", field="times")
    if not 1 <= every <= MOST_APART:
        raise Refusal(f"So many days apart: 1 to {MOST_APART}.", field="every")
    held, steps = hold(batch.pk)
    if held.state in ENDED:
        raise Refusal(f"{held} is {held.get_state_display()}.")
    if day < held.start:
        raise Refusal(f"{held} begins on {day_text(held.start)}.", field="day")
    days = [day + dt.timedelta(days=every * number) for number in range(times)]
    rows = [
        _drafted(held, _title(title, number, times), one, notes)
        for number, one in enumerate(days, 1)
    ]
    for row in rows:
        check_columns(row, ["title", "notes"])
    _make_room(steps, rows)
    Step.objects.bulk_create(rows)
    often = f", {times} times" if times > 1 else ""
    activity.record(
        by=by,
        verb="add step",
        subject=rows[0],
        summary=f"Put in “{held}: {title}”, {day_text(day)}{often}",
        undo="added_steps.add",
        undo_data={"batch": held.pk, "steps": [row.pk for row in rows]},
    )
    return rows


def repeat(batch: Batch, steps: list[Step]) -> None:
    """The second and later times of steps that the recipe repeats, as part of planning a batch."""
    rows = []
    for step in steps:
        times, every = step.template.times, step.template.every_days
        if times == 1:
            continue
        for number in range(2, times + 1):
            day = step.day + dt.timedelta(days=every * (number - 1))
            rows.append(_drafted(batch, _title(step.title[:60], number, times), day, step.notes))
        step.title = _title(step.title[:60], 1, times)
    if not rows:
        return
    Step.objects.bulk_update([step for step in steps if step.template.times > 1], ["title"])
    _make_room(steps, rows)
    Step.objects.bulk_create(rows)


def _title(title: str, number: int, times: int) -> str:
    return title if times == 1 else f"{title}, {number} of {times}"


def _drafted(batch: Batch, title: str, day: dt.date, notes: str) -> Step:
    return Step(
        batch=batch,
        title=title,
        notes=notes,
        nominal=day,
        day=day,
        pinned=True,
        changed_at=timezone.now(),
    )


def _make_room(steps: list[Step], rows: list[Step]) -> None:
    """Number all of them anew by day, the new ones after the old of the same day."""
    order = sorted([*steps, *rows], key=lambda step: (step.done_on or step.day, step.pk is None))
    # The first of the recipe stays first: the start of the batch is counted from it.
    first = steps[0]
    order = [first, *(step for step in order if step is not first)]
    free = max(step.place for step in steps) + len(order)
    for number, step in enumerate(order, start=1):
        step.place = number
    moved = [step for step in order if step.pk]
    for step in moved:
        step.place += free
    Step.objects.bulk_update(moved, ["place"])
    for step in moved:
        step.place -= free
    Step.objects.bulk_update(moved, ["place"])


@activity.undoes("added_steps.add")
def _undo_add(data: dict, by: Person | None) -> None:
    _, steps = hold(data["batch"])
    rows = [step for step in steps if step.pk in set(data["steps"])]
    if any(not step.is_open for step in rows):
        raise Refusal("One of them has been done already; skip the rest instead.")
    for step in rows:
        step.state, step.remark = Step.State.SKIPPED, "not wanted after all"
    write(rows, "state", "remark")
