"""How much sugar went into a batch since its gravity was last read?"""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from inventory.models import Item, Movement, Requirement
from planner import compositions, progress
from planner.book import Book
from planner.chemistry.sums import bounds
from planner.models import Addition, Batch, Composition, Step
from planner.models.book import Purpose

G_PER_KG, PER_100_G = 1000, 100


@dataclass(frozen=True, slots=True)
class Added:
    """Grams of sugar that no reading has seen, none where that is not known.

    `is_primed` tells that a priming dose was written down since: it was reckoned with the reading.
    """

    beside_priming: float | None
    priming: float | None
    is_primed: bool

    @property
    def all_grams(self) -> float | None:
        if self.beside_priming is None or self.priming is None:
            return None
        return self.beside_priming + self.priming


@dataclass(frozen=True, slots=True)
class _Dose:
    item: Item
    amount: int
    is_priming: bool


def since_read(step: Step | None, book: Book) -> Added:
    """What additions and done steps brought on the day of the last reading or after, and what `step`
    itself still brings. Four queries.
    """
    batch = book.batch
    day = book.now.day if book.now else batch.start
    added = _additions(batch, day)
    doses = [*added, *_used(batch, day)]
    doses += _to_come(step) if step else []
    doses = [dose for dose in doses if compositions.counts(dose.item)]
    own = compositions.by_item(dose.item.pk for dose in doses)
    return Added(
        _grams((dose for dose in doses if not dose.is_priming), own),
        _grams((dose for dose in doses if dose.is_priming), own),
        any(dose.is_priming for dose in added),
    )


def _additions(batch: Batch, day: dt.date) -> list[_Dose]:
    rows = Addition.objects.filter(batch=batch, day__gte=day, taken_back=False)
    rows = rows.filter(item__isnull=False).select_related("item")
    return [_Dose(row.item, row.amount, row.purpose == Purpose.PRIMING) for row in rows]


def _used(batch: Batch, day: dt.date) -> list[_Dose]:
    kept = Movement.objects.filter(movement__isnull=True)
    rows = kept.filter(requirement__step_need__step__batch=batch, day__gte=day)
    rows = rows.select_related("lot__item", "requirement__step_need__step")
    return [
        _Dose(row.lot.item, -row.quantity, _primes(row.requirement.step_need.step)) for row in rows
    ]


def _to_come(step: Step) -> list[_Dose]:
    """Sugar wanted by the step that fills the glass is priming in a drink with fizz."""
    rows = Requirement.objects.filter(step_need__step=step, state=Requirement.State.OPEN)
    return [_Dose(row.item, row.quantity, True) for row in rows.select_related("item")]


def _primes(step: Step) -> bool:
    return progress.first_word(step.title) in ("prime", "priming", "tirage")


def _grams(doses: Iterable[_Dose], own: dict[int, Composition]) -> float | None:
    """The most it may be; what is not known of one is not known of all."""
    total = 0.0
    for dose in doses:
        mass = compositions.mass_kg(dose.item, dose.amount, own.get(dose.item.pk))
        if not mass.is_known:
            return None
        sugar = compositions.ingredient(dose.item, mass.value, own.get(dose.item.pk)).sugar
        most = bounds(sugar)[1]
        if most is None:
            return None
        total += mass.value * G_PER_KG * most / PER_100_G
    return total
