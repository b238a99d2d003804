"""What is to be done on a day and in the week after, what is fetched for it, and what to beware of?"""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass
from itertools import groupby

from django.db.models import F, Q

from inventory.models import Item, Lot, Requirement, Reservation, Vessel
from planner.models import Occupancy, Plant, Step, StepNeed

WEEK = dt.timedelta(days=7)


@dataclass(frozen=True)
class Take:
    """So much of one lot; its place is on the lot."""

    lot: Lot
    quantity: int


@dataclass(frozen=True)
class Fetch:
    """What a step wants of one item: from which lots, first expired first, and what none of them has."""

    item: Item
    quantity: int
    takes: tuple[Take, ...]

    @property
    def lacking(self) -> int:
        return self.quantity - sum(take.quantity for take in self.takes)


@dataclass(frozen=True)
class SheetStep:
    """One step on the sheet; `out_of` are the vessels that are free once it is done."""

    step: Step
    fetches: tuple[Fetch, ...]
    plants: tuple[Plant, ...]
    into: tuple[Vessel, ...]
    out_of: tuple[Vessel, ...]


@dataclass(frozen=True)
class Sheet:
    """Steps to do: left over from before (on today's sheet only), of the day, and of the week after."""

    day: dt.date
    left_over: list[SheetStep]
    of_the_day: list[SheetStep]
    week: list[tuple[dt.date, list[SheetStep]]]

    @property
    def empty(self) -> bool:
        return not (self.left_over or self.of_the_day or self.week)


def sheet_of(*, day: dt.date, today: dt.date) -> Sheet:
    """The sheet of a day; four queries whatever the size of the house, one if nothing is to do."""
    steps = _steps(day, today)
    lines = _lines(steps) if steps else []
    later = [line for line in lines if line.step.day > day]
    return Sheet(
        day=day,
        left_over=[line for line in lines if line.step.day < day],
        of_the_day=[line for line in lines if line.step.day == day],
        week=[(when, list(found)) for when, found in groupby(later, key=lambda one: one.step.day)],
    )


def _steps(day: dt.date, today: dt.date) -> list[Step]:
    fitting = Q(day__range=(day, day + WEEK))
    if day == today:
        fitting |= Q(day__lt=day)
    rows = Step.objects.filter(fitting, state=Step.State.TO_DO).select_related("batch")
    return list(rows.order_by("day", "batch__name", "place"))


def _lines(steps: list[Step]) -> list[SheetStep]:
    needs, into, out_of = _needs(steps), defaultdict(list), defaultdict(list)
    takes = _takes(need.requirement_id for found in needs.values() for need in found)
    for use in _uses(steps):
        into[use.first_step_id].append(use.vessel)
        out_of[use.last_step_id].append(use.vessel)
    return [
        SheetStep(
            step=step,
            fetches=tuple(_fetch(need.requirement, takes) for need in needs[step.pk]),
            plants=tuple(_plants(needs[step.pk])),
            into=tuple(into[step.pk]),
            out_of=tuple(out_of[step.pk]),
        )
        for step in steps
    ]


def _needs(steps: Iterable[Step]) -> dict[int, list[StepNeed]]:
    """What is still needed, by step, with its item and the plant that item is."""
    rows = StepNeed.objects.filter(
        step__in=[step.pk for step in steps], requirement__state=Requirement.State.OPEN
    )
    found = defaultdict(list)
    for need in rows.select_related("requirement__item__plant").order_by("id"):
        found[need.step_id].append(need)
    return found


def _takes(requirements: Iterable[int]) -> dict[int, list[Take]]:
    rows = Reservation.objects.filter(requirement__in=list(requirements))
    in_order = rows.select_related("lot__place").order_by(
        F("lot__use_by").asc(nulls_last=True), "lot"
    )
    found = defaultdict(list)
    for row in in_order:
        found[row.requirement_id].append(Take(row.lot, row.quantity))
    return found


def _uses(steps: Iterable[Step]) -> Iterable[Occupancy]:
    keys = [step.pk for step in steps]
    rows = Occupancy.objects.filter(Q(first_step__in=keys) | Q(last_step__in=keys))
    return rows.select_related("vessel").order_by("vessel__name")


def _fetch(wanted: Requirement, takes: dict[int, list[Take]]) -> Fetch:
    return Fetch(wanted.item, wanted.quantity, tuple(takes.get(wanted.pk, ())))


def _plants(needs: Iterable[StepNeed]) -> Iterable[Plant]:
    """What grew among what goes in: its hazards and look-alikes belong on the sheet."""
    for need in needs:
        plant = getattr(need.requirement.item, "plant", None)
        if plant:
            yield plant
