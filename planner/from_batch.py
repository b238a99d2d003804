"""A recipe version as a batch was really made: its true days and amounts, with the lesson as reason."""

from dataclasses import replace

from django.db import transaction

from inventory.models import Person
from inventory.refusals import Refusal
from planner import look_back, recipes, trace
from planner.book import Book
from planner.models import Basis, Batch, RecipeVersion, Step
from planner.recipes import LineDraft, StepDraft

UL_PER_L = 1_000_000
REASON = 160


@transaction.atomic
def version_of(*, batch: Batch, book: Book, by: Person | None, reason: str = "") -> RecipeVersion:
    """The next version of its recipe, by what was done and used; atomic, leaves an activity.

    Lines whose item was used take the amount that was, per litre of the volume; others stay as they
    were. Steps take the days on which they were done.
    """
    old = batch.recipe_version
    if not batch.steps.filter(state=Step.State.DONE).exists():
        raise Refusal(f"Nothing of {batch} has been done yet.")
    steps, lines = recipes.drafts_of(old)
    days = {
        str(step.template.place): (step.done_on - batch.start).days
        for step in batch.steps.filter(
            state=Step.State.DONE, template__isnull=False
        ).select_related("template")
    }
    used = _used(batch)
    lessons = look_back.of_batch(batch, book).lessons
    why = reason.strip() or "; ".join([f"as {batch} was made", *lessons[:1]])
    return recipes.add_version(
        recipe=old.recipe,
        steps=[_step(draft, days) for draft in steps],
        lines=[_line(draft, used, batch) for draft in lines],
        by=by,
        parent=old,
        reason=why[:REASON],
        design={name: getattr(old, name) for name in recipes.DESIGN_FIELDS},
    )


def _used(batch: Batch) -> dict[int, int]:
    found: dict[int, int] = {}
    for line in trace.of_batch(batch):
        found[line.item.pk] = found.get(line.item.pk, 0) + line.quantity
    return found


def _step(draft: StepDraft, days: dict[str, int]) -> StepDraft:
    if draft.key not in days:
        return draft
    real = max(0, days[draft.key])
    return replace(draft, least_days=None, most_days=None, after=None, offset_days=real)


def _line(draft: LineDraft, used: dict[int, int], batch: Batch) -> LineDraft:
    amount = used.get(draft.item.pk)
    if not amount or draft.basis == Basis.PER_KG_FRUIT:
        return draft
    if draft.basis == Basis.PER_LITRE:
        amount = round(amount * UL_PER_L / batch.volume)
    return replace(draft, amount=max(1, amount))
