"""What is being made here, from the plan to the last bottle?"""

import datetime as dt
from collections.abc import Iterable
from itertools import count

from django.db import IntegrityError, transaction

from inventory import activity, clock
from inventory import requirements as store
from inventory.editing import save_edit
from inventory.models import Person, Requirement, Vessel
from inventory.refusals import Refusal
from inventory.values import check_columns, check_day
from planner import (
    added_steps,
    gates,
    glass_needs,
    making_safe,
    occupancies,
    progress,
    requirements,
    step_gates,
)
from planner.models import Batch, Recipe, RecipeVersion, Step, StepTemplate
from planner.moves import move_step, pin, set_weekend, unpin
from planner.occupancies import AUTO
from planner.recipes import rules_of
from planner.schedule import Dated, ScheduleRefusal, lay_out
from planner.steps import (
    complete_step,
    drafted,
    hold,
    open_needs,
    skip_step,
    steps_of,
    write,
)

__all__ = [
    "AUTO",
    "MOST_VOLUME",
    "complete_step",
    "drop",
    "edit_batch",
    "move_step",
    "pin",
    "plan",
    "set_state",
    "set_weekend",
    "skip_step",
    "unpin",
]

# 10,000 L: far beyond a household or a small club; a judgement, no source.
MOST_VOLUME = 10_000 * 1_000_000
NAME_LENGTH = Batch._meta.get_field("name").max_length
State = Batch.State


@transaction.atomic
def plan(
    *,
    recipe_version: RecipeVersion,
    volume: int,
    start: dt.date,
    by: Person | None,
    name: str = "",
    vessels: str | Iterable[Vessel] | None = None,
    left_out: str = "",
) -> Batch:
    """Set a batch down: its dated steps, what they need of the store, and the vessels it stands in.

    `vessels` is a choice of them, or `auto` for free ones; a vessel wanted twice is not refused but
    listed by `occupancies.conflicts`, and the activity says where they hold too little. A plan without
    the step that makes a plant harmless is refused, unless `left_out` says why; the reason stays in the
    notes. Everything is written or nothing; can be undone.
    """
    _check_size(volume)
    check_day(start, field="start")
    # Held, so that the version cannot change meanwhile and no second plan takes the same name.
    recipe = Recipe.objects.select_for_update(no_key=True).get(pk=recipe_version.recipe_id)
    if recipe.archived:
        raise Refusal(f"{recipe} has been put away; take it out again first.")
    templates = list(recipe_version.steps.order_by("place"))
    laid = _lay_out(recipe_version, templates, start)
    batch = Batch(recipe_version=recipe_version, volume=volume, start=start, planned_by=by)
    lines = glass_needs.wanted(recipe_version, volume)
    _refuse_unmade_safe(batch, templates, lines, left_out)
    name_and_save(batch, name.strip() or _free_name(recipe, start))
    steps = Step.objects.bulk_create(drafted(batch, templates, laid))
    requirements.ask(batch=batch, steps=steps, lines=lines, by=by)
    added_steps.repeat(batch, steps)
    spans = occupancies.spans(steps, lines)
    short = occupancies.occupy(batch=batch, found=spans, vessels=vessels) if vessels else []
    activity.record(
        by=by,
        verb="plan",
        subject=batch,
        summary="; ".join([f"Set down {batch}", *(f"too little room: {span}" for span in short)]),
        undo="plan batch",
        undo_data={"batch": batch.pk},
    )
    return batch


@transaction.atomic
def drop(*, batch: Batch, by: Person | None) -> Batch:
    """Give a batch up: steps to do are cancelled, what they needed and its vessels are free.

    Atomic; undo brings everything back.
    """
    held, removed = _give_up(batch, by)
    activity.record(
        by=by,
        verb="drop",
        subject=held,
        summary=f"Dropped {held}",
        undo="drop batch",
        undo_data=removed,
    )
    return held


@transaction.atomic
def edit_batch(*, batch: Batch, version: int, values: dict, by: Person | None) -> Batch:
    """Change a batch's name or notes; a new name shows in every event and requirement."""
    held = Batch.objects.select_for_update(no_key=True).get(pk=batch.pk)
    former, name = held.name, values.get("name", held.name).strip()
    if name != former:
        _check_name(name)
    edited = save_edit(held, version=version, values={**values, "name": name}, by=by)
    if name != former:
        steps = steps_of(edited)
        write(steps)
        requirements.relabel(steps)
    return edited


@transaction.atomic
def set_state(*, batch: Batch, state: str, by: Person | None) -> Batch:
    """Say how far a batch has come, where no step tells; can be undone."""
    if state not in (*progress.FORWARD, State.DRUNK_UP, State.POURED_AWAY):
        raise Refusal(f"{state!r} is no state of a batch.", field="state")
    held, _ = hold(batch.pk)
    former = held.state
    progress.write_state(held, state)
    activity.record(
        by=by,
        verb="state",
        subject=held,
        summary=f"{held} is {held.get_state_display()}",
        undo="set state",
        undo_data={"batch": held.pk, "former": former, "latter": state},
    )
    return held


@activity.undoes("set state")
def _undo_state(data: dict, by: Person | None) -> None:
    held, _ = hold(data["batch"])
    if held.state != data["latter"]:
        raise Refusal(f"{held} is {held.get_state_display()} by now.")
    progress.write_state(held, data["former"])


@activity.undoes("plan batch")
def _undo_plan(data: dict, by: Person | None) -> None:
    batch = Batch.objects.get(pk=data["batch"])
    if batch.steps.filter(state=Step.State.DONE).exists():
        raise Refusal(f"Some of {batch} is done already; drop the rest instead.")
    _give_up(batch, by)


@activity.undoes("drop batch")
def _undo_drop(data: dict, by: Person | None) -> None:
    batch = Batch.objects.select_for_update(no_key=True).get(pk=data["batch"])
    if batch.state != State.DROPPED:
        raise Refusal(f"{batch} is not dropped any more.")
    batch.dropped = None
    batch.save(update_fields=["dropped"])
    progress.write_state(batch, data["state"])
    steps = steps_of(batch)
    again = [step for step in steps if step.pk in set(data["steps"])]
    for step in again:
        step.state = Step.State.TO_DO
    write(again, "state")
    needs = Requirement.objects.filter(pk__in=data["needs"])
    store.reinstate(requirements=needs, by=by, quiet=True)
    occupancies.restore(batch, data["occupancies"], steps)


def _give_up(batch: Batch, by: Person | None) -> tuple[Batch, dict]:
    """Cancel what is left to do; the batch and what brings it back."""
    held, steps = hold(batch.pk)
    left = [step for step in steps if step.is_open]
    if not left:
        raise Refusal(f"Nothing of {held} is left to do; say that it is poured away or drunk up.")
    data = {"batch": held.pk, "state": held.state, "steps": [step.pk for step in left]}
    freed = store.withdraw(requirements=open_needs(left), by=by, quiet=True)
    for step in left:
        step.state = Step.State.CANCELLED
    write(left, "state")
    removed = occupancies.remove(held)
    held.dropped = clock.today()
    held.save(update_fields=["dropped"])
    progress.write_state(held, State.DROPPED)
    return held, {**data, "needs": [need.pk for need in freed], "occupancies": removed}


def _check_size(volume: int) -> None:
    if not 0 < volume <= MOST_VOLUME:
        raise Refusal("The volume must be more than nothing, and at most 10,000 L.", field="volume")


def _refuse_unmade_safe(
    batch: Batch, templates: list[StepTemplate], lines: requirements.Lines, left_out: str
) -> None:
    """What takes a poison away is in the plan, or the reason why not is kept."""
    texts = [f"{template.title} {template.notes}" for template in templates]
    verdict = making_safe.verdict({line.item_id for line, _ in lines}, texts)
    if verdict.level != gates.STOP:
        return
    if not left_out.strip():
        raise Refusal(f"Stop: {step_gates.words_of(verdict)}", field="left_out")
    missing = ", ".join(reason.words for reason in verdict.reasons)
    batch.notes = f"Left out ({missing}): {left_out.strip()}"
    check_columns(batch, ["notes"])


def _free_name(recipe: Recipe, start: dt.date) -> str:
    """The recipe and the year, with a running number from the second on."""
    base = f"{recipe.name[: NAME_LENGTH - 12]} {start.year}"
    taken = set(Batch.objects.filter(name__startswith=base).values_list("name", flat=True))
    names = (base if number == 1 else f"{base} ({number})" for number in count(1))
    return next(name for name in names if name not in taken)


def _check_name(name: str) -> None:
    if not name:
        raise Refusal("A batch needs a name.", field="name")
    check_columns(Batch(name=name), ["name"])
    if Batch.objects.filter(name=name).exists():
        raise Refusal(f"There is a batch called {name} already.", field="name")


def name_and_save(batch: Batch, name: str) -> None:
    """Write a new batch under a name that no other has; the caller is atomic."""
    _check_name(name)
    batch.name = name
    try:
        with transaction.atomic():
            batch.save(force_insert=True)
    except IntegrityError as taken:
        raise Refusal(f"There is a batch called {name} already.", field="name") from taken


def _lay_out(version: RecipeVersion, templates: list[StepTemplate], start: dt.date) -> list[Dated]:
    if not templates:
        raise Refusal(f"{version} has no steps yet: write them first.", field="recipe_version")
    try:
        return lay_out(start, rules_of(templates))
    except ScheduleRefusal as problem:
        raise Refusal(str(problem), field="start") from problem
