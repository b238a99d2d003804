"""What does it mean that a step is done, or skipped?

Only a step whose day, title or state changed counts as changed in the feed: its sequence goes up and
it carries the moment. Every write holds the batch's row first, so two people never mix.
"""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass

from django.db import transaction
from django.utils import timezone

from inventory import activity, clock, photos, requirements, reservations, vessels
from inventory.ledger import said
from inventory.locks import lock_items
from inventory.models import Item, Lot, Person, Requirement
from inventory.refusals import Refusal
from inventory.shown import day_text
from inventory.values import check_columns, check_day, check_text
from planner import book, occupancies, progress, step_gates, telling
from planner.models import Batch, Step, StepTemplate
from planner.schedule import Dated
from planner.told import NOTHING, Told

State = Step.State
Takes = Mapping[int, list[tuple[Lot, int]]]


@dataclass(frozen=True)
class Missing:
    """How much of an item a step lacked."""

    item: Item
    quantity: int

    def __str__(self):
        return f"{said(self.item, self.quantity)} of {self.item}"


def hold(batch_id: int) -> tuple[Batch, list[Step]]:
    """The batch, locked, and its steps in order; a dropped batch is refused."""
    batch = Batch.objects.select_for_update(no_key=True).get(pk=batch_id)
    if batch.state == Batch.State.DROPPED:
        raise Refusal(f"{batch} has been dropped; take that back first.")
    return batch, steps_of(batch)


def steps_of(batch: Batch) -> list[Step]:
    steps = list(batch.steps.select_related("template").order_by("place"))
    for step in steps:
        step.batch = batch
    return steps


def drafted(batch: Batch, templates: Iterable[StepTemplate], laid: Iterable[Dated]) -> list[Step]:
    """The steps that a version gives a batch on the days laid out, not yet written; no query."""
    now = timezone.now()
    return [
        Step(
            batch=batch,
            template=template,
            place=template.place,
            title=template.title,
            notes=template.notes,
            weekend=template.weekend,
            nominal=dated.nominal,
            day=dated.day,
            changed_at=now,
        )
        for template, dated in zip(templates, laid, strict=True)
    ]


def hold_open(step: Step) -> tuple[Batch, list[Step], Step]:
    """The batch, locked, its steps in order, and the step among them, which must be to do."""
    batch, steps = hold(step.batch_id)
    held = next(one for one in steps if one.pk == step.pk)
    if not held.is_open:
        raise Refusal(f"“{held.title}” is {held.get_state_display()} already.")
    return batch, steps, held


def write(steps: Iterable[Step], *fields: str) -> None:
    """Store these fields of steps that the feed must show as changed."""
    steps, now = list(steps), timezone.now()
    for step in steps:
        step.sequence += 1
        step.version += 1
        step.changed_at = now
    Step.objects.bulk_update(steps, [*fields, "sequence", "version", "changed_at"])


def write_quietly(steps: Iterable[Step], *fields: str) -> None:
    """Store fields of which the feed says nothing."""
    steps = list(steps)
    for step in steps:
        step.version += 1
    Step.objects.bulk_update(steps, [*fields, "version"])


@transaction.atomic
def complete_step(
    *,
    step: Step,
    on: dt.date,
    by: Person | None,
    remark: str = "",
    without: bool = False,
    takes: Takes | None = None,
    told: Told = NOTHING,
    filled: bool = False,
    photo: bytes | None = None,
) -> Step:
    """A step is done: what it needs is used, and the batch has come as far as the step brings it.

    Takes what is put by, or by requirement key what `takes` says. Refuses while something is
    missing, unless `without` it, with the reason as the remark; refuses behind a gate that stops it,
    and where one says to look again without the reason in `told`. What was read off goes into the book
    and the volume ledger. What is to have fizz goes into glass on its bottling page only, which says that
    it is `filled`. All or nothing; can be undone.
    """
    check_day(on, field="on")
    if on > clock.today():
        raise Refusal(f"{day_text(on)} is still to come.", field="on")
    if without:
        check_text(remark, field="remark", says="Say why it is done without what is missing.")
    batch, steps, held = hold_open(step)
    kinds = list(held.needs.values_list("requirement__item__kind", flat=True))
    _refuse_fizz_unreckoned(batch, held, kinds, filled)
    written = telling.read_off(batch, told, on=on, by=by)
    _refuse_behind_a_gate(batch, held, kinds, told, on=on, by=by)
    used, missing = _use(held, on, by, takes or {})
    if missing and not without:
        raise Refusal(
            f"Missing for “{held.title}”: {', '.join(map(str, missing))}. Receive it first, or do "
            "the step without it and say why."
        )
    held.done_on, held.done_by, held.remark = on, by, remark
    _end(held, State.DONE)
    occupancies.follow(batch, steps)
    before, after = _advance(batch, held, kinds)
    pictures = [photos.keep(data=photo, of=held, words=str(held), by=by)] if photo else []
    emptied = occupancies.emptied_by(held)
    vessels.soil(emptied)
    written |= {
        "emptied": emptied,
        "photos": [picture.pk for picture in pictures],
    } | telling.measure(batch, held, told, on=on, by=by)
    activity.record(
        by=by,
        verb="complete",
        subject=held,
        summary=f"Done: “{held}”",
        undo="end step",
        undo_data={"step": held.pk, "used": used, "batch": [before, after], **written},
    )
    return held


@transaction.atomic
def skip_step(*, step: Step, reason: str, by: Person | None) -> Step:
    """A step is left out, with the reason; what it needed is free for others. Can be undone."""
    check_text(reason, field="reason", says="Say why it is skipped.")
    batch, _, held = hold_open(step)
    freed = requirements.withdraw(requirements=open_needs([held]), by=by, quiet=True)
    held.remark = reason
    _end(held, State.SKIPPED)
    activity.record(
        by=by,
        verb="skip",
        subject=held,
        summary=f"Skipped “{held}”: {reason}",
        undo="end step",
        undo_data={
            "step": held.pk,
            "used": [[need.pk, []] for need in freed],
            "batch": [batch.state, batch.state],
        },
    )
    return held


@activity.undoes("end step")
def _undo_end(data: dict, by: Person | None) -> None:
    """Open the step again: lines are taken back and its requirements wait as before."""
    batch, steps = hold(Step.objects.get(pk=data["step"]).batch_id)
    held = next(step for step in steps if step.pk == data["step"])
    if held.is_open:
        raise Refusal(f"“{held.title}” is to do again already.")
    needs = Requirement.objects.in_bulk([key for key, _ in data["used"]])
    telling.take_back(held, data, by)
    vessels.unsoil(data.get("emptied", []))
    photos.take_back(data.get("photos", []))
    lock_items(need.item_id for need in needs.values())
    for key, movements in data["used"]:
        reservations.give_back(requirement=needs[key], movements=movements, by=by)
    held.done_on, held.done_by, held.remark = None, None, ""
    _end(held, State.TO_DO)
    occupancies.follow(batch, steps)
    before, after = data["batch"]
    if batch.state == after != before:
        progress.write_state(batch, before)


def open_needs(steps: Iterable[Step]) -> list[Requirement]:
    rows = Requirement.objects.filter(step_need__step__in=list(steps))
    return list(rows.filter(state=Requirement.State.OPEN).select_related("item").order_by("pk"))


def _use(
    step: Step, on: dt.date, by: Person | None, takes: Takes
) -> tuple[list[list], list[Missing]]:
    """Use what the step needs: the lines written for each requirement, and what was missing."""
    needs = open_needs([step])
    lock_items(need.item_id for need in needs)
    used, missing = [], []
    for need in needs:
        lines = reservations.consume(
            requirement=need,
            by=by,
            on=on,
            takes=takes.get(need.pk),
            allow_less=True,
            quiet=True,
        )
        used.append([need.pk, [line.pk for line in lines]])
        lacking = need.quantity + sum(line.quantity for line in lines)
        if lacking > 0 and need.pk not in takes:
            missing.append(Missing(need.item, lacking))
    return used, missing


def _end(step: Step, state: State) -> None:
    check_columns(step, ["remark"])
    step.state = state
    write([step], "state", "done_on", "done_by", "remark")


def _refuse_fizz_unreckoned(batch: Batch, step: Step, kinds: list[str], filled: bool) -> None:
    into_glass = progress.brings_to(step.title, kinds) == Batch.State.IN_GLASS
    if into_glass and not filled and step_gates.is_meant_for_fizz(batch):
        raise Refusal(
            "Stop: what is to have fizz is filled on its bottling page, where priming and pressure are "
            "reckoned for every bottle."
        )


def _refuse_behind_a_gate(
    batch: Batch, step: Step, kinds: list[str], told: Told, *, on: dt.date, by: Person | None
) -> None:
    """No step is done that its gate stops, whichever way it is sent; who goes on all the same says why."""
    verdicts = step_gates.of_step(step, kinds=kinds, book=book.of_batch(batch), on=on, told=told)
    step_gates.refuse_stops(verdicts)
    telling.go_on(step, verdicts, told.reason, by=by)


def _advance(batch: Batch, step: Step, kinds: list[str]) -> tuple[str, str]:
    """Move the batch's state forward; its state before and after."""
    before = batch.state
    reached = progress.brings_to(step.title, kinds)
    progress.write_state(batch, progress.further(before, reached))
    return before, batch.state
