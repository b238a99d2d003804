"""Where do the other steps go when one of them is put on another day?"""

import datetime as dt
from collections.abc import Callable, Iterable

from django.db import transaction

from inventory import activity, requirements
from inventory.models import Person
from inventory.refusals import Refusal
from inventory.shown import day_text
from planner import occupancies, schedule
from planner.models import Batch, Step, StepNeed
from planner.models.recipes import Weekend
from planner.recipes import rule_of
from planner.schedule import Dated, ScheduleRefusal, StepRule
from planner.steps import hold, hold_open, write, write_quietly

Layer = Callable[[list[Dated], str, list[StepRule]], list[Dated]]


@transaction.atomic
def move_step(*, step: Step, day: dt.date, by: Person | None, pin: bool = False) -> Step:
    """Put a step on another day; later ones follow by as many days, pinned and done ones stay.

    Its requirements and vessels move with it. Atomic, can be undone; refused before the step it
    must follow, with the reason.
    """
    return _lay_again(
        step,
        lambda dated, key, rules: schedule.move(dated, key, day, rules),
        by=by,
        verb="move",
        summary=f"Moved “{step}” to {day_text(day)}",
        pin=pin,
    )


@transaction.atomic
def set_weekend(*, step: Step, weekend: str, by: Person | None) -> Step:
    """Keep a step to weekends, to working days or to any day; other steps stay where they can."""
    if weekend not in Weekend.values:
        raise Refusal(f"{weekend!r} is no rule for weekends.", field="weekend")
    rule = schedule.Weekend(weekend)
    return _lay_again(
        step,
        lambda dated, key, rules: schedule.set_weekend(dated, key, rule, rules),
        by=by,
        verb="weekend",
        summary=f"“{step}”: {Weekend(weekend).label}",
        weekend=weekend,
    )


@transaction.atomic
def pin(*, step: Step, by: Person | None) -> Step:
    """Let a step stay on its day when earlier ones move."""
    return _set_pinned(step, True, by)


@transaction.atomic
def unpin(*, step: Step, by: Person | None) -> Step:
    """Let a step follow again when earlier ones move."""
    return _set_pinned(step, False, by)


def dated(steps: Iterable[Step]) -> list[Dated]:
    """The steps as the schedule knows them; skipped ones stay where they are, like done ones."""
    return [
        Dated(str(step.pk), step.nominal, step.day, step.pinned, done=not step.is_open)
        for step in steps
    ]


def rules_of(batch: Batch, steps: list[Step]) -> list[StepRule]:
    """Each step's rule: its template's distances with its own weekend rule."""
    key_by_template = {step.template_id: str(step.pk) for step in steps if step.template_id}
    return [_rule(batch, step, key_by_template) for step in steps]


def _rule(batch: Batch, step: Step, key_by_template: dict[int, str]) -> StepRule:
    key, own = str(step.pk), {"title": step.title, "weekend": step.weekend}
    if step.template is None or _lost_its_anchor(step, key_by_template):
        offset = max((step.nominal - batch.start).days, 0)
        return StepRule(key=key, offset_days=offset, **own)
    anchor = key_by_template.get(step.template.after_id)
    return rule_of(step.template, key=key, anchor=anchor, **own)


def _lost_its_anchor(step: Step, key_by_template: dict[int, str]) -> bool:
    """Of a batch parted from another: what it was counted from was done there."""
    return bool(step.template.after_id) and step.template.after_id not in key_by_template


def _lay_again(
    step: Step,
    lay: Layer,
    *,
    by: Person | None,
    verb: str,
    summary: str,
    pin: bool = False,
    weekend: str = "",
) -> Step:
    batch, steps, held = hold_open(step)
    former = [_placing(one) for one in steps]
    try:
        laid = lay(dated(steps), str(held.pk), rules_of(batch, steps))
    except ScheduleRefusal as problem:
        raise Refusal(str(problem), field="day") from problem
    held.pinned, held.weekend = held.pinned or pin, weekend or held.weekend
    write_quietly([held], "pinned", "weekend")
    _place(batch, steps, {int(one.key): (one.nominal, one.day) for one in laid}, by)
    data = {"batch": batch.pk, "former": former, "latter": [_placing(one) for one in steps]}
    activity.record(
        by=by, verb=verb, subject=held, summary=summary, undo="move step", undo_data=data
    )
    return held


def _placing(step: Step) -> list:
    """Where a step stands, in words that an activity can keep."""
    days = [step.nominal.isoformat(), step.day.isoformat()]
    return [step.pk, *days, step.pinned, step.weekend, step.state]


def _place(
    batch: Batch,
    steps: list[Step],
    days: dict[int, tuple[dt.date, dt.date]],
    by: Person | None,
) -> None:
    """Write new days, and let start, requirements and vessels follow them."""
    moved, kept = [], []
    for step in steps:
        nominal, day = days[step.pk]
        (moved if day != step.day else kept).append(step)
        step.nominal, step.day = nominal, day
    write(moved, "nominal", "day")
    Step.objects.bulk_update(kept, ["nominal"])
    _follow_start(batch, steps)
    needs = StepNeed.objects.filter(step__in=moved).values_list("requirement_id", "step_id")
    day_of = {step.pk: step.day for step in moved}
    requirements.move(moves={need: day_of[key] for need, key in needs}, by=by, quiet=True)
    occupancies.follow(batch, steps)


def _follow_start(batch: Batch, steps: list[Step]) -> None:
    """The batch starts with its first step, as many days before it as its template says."""
    first = steps[0]
    lead = first.template.offset_days if first.template else 0
    start = first.nominal - dt.timedelta(days=lead)
    if first.template and start != batch.start:
        batch.start = start
        batch.version += 1
        batch.save(update_fields=["start", "version"])


def _set_pinned(step: Step, pinned: bool, by: Person | None) -> Step:
    _, _, held = hold_open(step)
    held.pinned = pinned
    write_quietly([held], "pinned")
    activity.record(
        by=by,
        verb="pin" if pinned else "unpin",
        subject=held,
        summary=f"{'Pinned' if pinned else 'Let go'} “{held}” on {day_text(held.day)}",
        undo="pin step",
        undo_data={"step": held.pk, "pinned": not pinned},
    )
    return held


@activity.undoes("pin step")
def _undo_pin(data: dict, by: Person | None) -> None:
    _, _, held = hold_open(Step.objects.get(pk=data["step"]))
    held.pinned = data["pinned"]
    write_quietly([held], "pinned")


@activity.undoes("move step")
def _undo_move(data: dict, by: Person | None) -> None:
    batch, steps = hold(data["batch"])
    if [_placing(step) for step in steps] != data["latter"]:
        raise Refusal(f"Steps of {batch} have been changed since; move them by hand.")
    former = {row[0]: row[1:] for row in data["former"]}
    for step in steps:
        step.pinned, step.weekend = former[step.pk][2:4]
    write_quietly(steps, "pinned", "weekend")
    days = {
        key: (dt.date.fromisoformat(row[0]), dt.date.fromisoformat(row[1]))
        for key, row in former.items()
    }
    _place(batch, steps, days, by)
