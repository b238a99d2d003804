"""How does a batch stand: each step, what it takes from the store, and what is still lacking?"""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass, field

from django.db.models import Sum

from inventory import photos, shown
from inventory.models import Item, Photo, Requirement
from inventory.models.items import Kind
from inventory.shortfalls import Line, shortfalls
from planner import book as books
from planner import occupancies, progress, step_gates
from planner.book import Book
from planner.gates import Verdict
from planner.models import Batch, Occupancy, Step, StepNeed

STEP_TONES = {"done": "good", "skipped": "plain", "cancelled": "plain", "to_do": "wait"}
BATCH_TONES = {
    "set_down": "wait",
    "thought_of": "plain",
    "dropped": "plain",
    "poured_away": "plain",
}


@dataclass(frozen=True)
class Use:
    """What a step takes of one item, and in a word whether it will be there."""

    item: Item
    quantity: int
    word: str
    tone: str


@dataclass(frozen=True)
class Lack:
    """What one step will lack, on which day, and what to do about it."""

    step: Step
    item: Item
    quantity: int
    day: dt.date
    word: str
    tone: str


@dataclass(frozen=True)
class StepOutlook:
    step: Step
    uses: list[Use]
    overdue: bool
    verdicts: list[Verdict] = field(default_factory=list)
    photos: list[Photo] = field(default_factory=list)

    @property
    def fills_glass(self) -> bool:
        kinds = [use.item.kind for use in self.uses]
        return progress.brings_to(self.step.title, kinds) == Batch.State.IN_GLASS

    @property
    def shown_verdicts(self) -> list[Verdict]:
        """Those that say something, else the first that is open."""
        return [one for one in self.verdicts if one.reasons] or self.verdicts[:1]

    @property
    def tone(self) -> str:
        return STEP_TONES[self.step.state]


@dataclass(frozen=True)
class BatchOutlook:
    batch: Batch
    steps: list[StepOutlook]
    lacks: list[Lack]
    conflicts: list[occupancies.Conflict]
    vessels: list[Occupancy]

    @property
    def dropped(self) -> bool:
        return self.batch.state == Batch.State.DROPPED

    @property
    def tone(self) -> str:
        return BATCH_TONES.get(self.batch.state, "good")


def of_batch(batch: Batch, *, today: dt.date, book: Book) -> BatchOutlook:
    """The batch's page; a fixed number of queries whatever its size. `book` is the batch's own."""
    steps = list(batch.steps.select_related("template").order_by("place"))
    for step in steps:
        step.batch = batch
    needs = _needs(steps)
    lacking = _lacking(batch, needs, today)
    pictures = photos.of_rows(steps)
    coming = next((step for step in steps if step.is_open), None)
    lines = [
        StepOutlook(
            step,
            _uses(step, needs, lacking),
            step.is_open and step.day < today,
            step_gates.of_step(
                step, kinds=_kinds(step, needs), book=book, on=today, is_next=step is coming
            ),
            pictures.get(photos.about(step), []),
        )
        for step in steps
    ]
    return BatchOutlook(
        batch=batch,
        steps=lines,
        lacks=_lacks(needs, lacking),
        conflicts=occupancies.conflicts(batch=batch),
        vessels=list(batch.occupancies.select_related("vessel").order_by("begins", "id")),
    )


def uses_of(step: Step, *, today: dt.date) -> list[Use]:
    """What one step takes from the store."""
    needs = _needs([step])
    return _uses(step, needs, _lacking(step.batch, needs, today))


def verdicts_of(step: Step, *, kinds: list[str], on: dt.date) -> list[Verdict]:
    """What the gates say of one open step."""
    found = books.of_batch(step.batch)
    return step_gates.of_step(step, kinds=kinds, book=found, on=on)


def kinds_of(step: Step) -> list[str]:
    """What kinds of thing a step takes; one query."""
    return list(step.needs.values_list("requirement__item__kind", flat=True))


def followers(step: Step) -> list[Step]:
    """The later steps that follow when this one is moved: those to do and not kept on their day."""
    later = Step.objects.filter(batch=step.batch_id, place__gt=step.place)
    return list(later.filter(state=Step.State.TO_DO, pinned=False).order_by("place"))


def advice(line: Line, item: Item) -> tuple[str, str]:
    """What to do about a shortfall, in the words of the store, and its tone."""
    day = shown.day_text(line.order_day)
    get, got = ("pick", "picked") if item.kind == Kind.FORAGED else ("order", "ordered")
    if line.asks:
        return f"ask for it sooner, or {get} by {day}", "warn"
    if line.overdue:
        return f"overdue: should have been {got} by {day}", "stop"
    return f"{get} by {day}", "wait"


def _needs(steps: Iterable[Step]) -> list[StepNeed]:
    rows = StepNeed.objects.filter(step__in=[step.pk for step in steps])
    return list(
        rows.select_related("step", "requirement__item")
        .annotate(promised=Sum("requirement__reservations__quantity"))
        .order_by("step__place", "id")
    )


def _lacking(batch: Batch, needs: list[StepNeed], today: dt.date) -> dict[int, tuple[int, Line]]:
    """By requirement: how much of it will be missing, and the line that says what to do."""
    if not any(need.requirement.state == Requirement.State.OPEN for need in needs):
        return {}
    return {
        hurt.requirement: (hurt.quantity, line)
        for found in shortfalls(today=today, origin=batch.origin)
        for line in found.lines
        for hurt in line.hurts
    }


def _uses(step: Step, needs: list[StepNeed], lacking: dict) -> list[Use]:
    return [_use(need, lacking) for need in needs if need.step_id == step.pk]


def _kinds(step: Step, needs: list[StepNeed]) -> list[str]:
    return [need.requirement.item.kind for need in needs if need.step_id == step.pk]


def _use(need: StepNeed, lacking: dict) -> Use:
    wanted = need.requirement
    word, tone = _word(need, lacking)
    return Use(wanted.item, wanted.quantity, word, tone)


def _word(need: StepNeed, lacking: dict) -> tuple[str, str]:
    state = need.requirement.state
    if state == Requirement.State.MET:
        return "taken", "good"
    if state == Requirement.State.WITHDRAWN:
        return "left out", "plain"
    if need.requirement_id in lacking:
        return advice(lacking[need.requirement_id][1], need.requirement.item)
    promised = (need.promised or 0) >= need.requirement.quantity
    return ("spoken for", "good") if promised else ("on its way", "wait")


def _lacks(needs: list[StepNeed], lacking: dict) -> list[Lack]:
    found = []
    for need in needs:
        wanted = need.requirement
        if wanted.pk in lacking:
            quantity, line = lacking[wanted.pk]
            word, tone = advice(line, wanted.item)
            found.append(Lack(need.step, wanted.item, quantity, wanted.day, word, tone))
    return sorted(found, key=lambda lack: (lack.day, lack.item.name))
