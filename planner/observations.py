"""At which stage was a plant seen, and what does the house's own record say?"""

import datetime as dt
from dataclasses import dataclass

from django.db import transaction
from django.db.models import Min, Q

from inventory import activity, clock
from inventory.models import Person
from inventory.refusals import Refusal
from inventory.shown import day_text
from inventory.values import check_columns, check_day
from planner.models import Observation, Patch, Pick, Plant
from planner.models.picks import Stage


@dataclass(frozen=True)
class OwnDate:
    """The first day of a year on which it was seen open or picked."""

    year: int
    day: dt.date
    looked_before: bool


@transaction.atomic
def observe(
    *,
    plant: Plant,
    stage: str,
    day: dt.date,
    by: Person | None,
    patch: Patch | None = None,
    looked_before: bool = False,
    note: str = "",
) -> Observation:
    """Note the stage of a plant on a day, also one long past; atomic, can be undone."""
    check_day(day, field="day")
    if day > clock.today():
        raise Refusal(f"{day_text(day)} is still to come.", field="day")
    if stage not in Stage.values:
        raise Refusal(f"{stage!r} is no stage of a plant.", field="stage")
    row = Observation(plant=plant, patch=patch, stage=stage, day=day, by=by, note=note)
    row.looked_before = looked_before
    check_columns(row, ["note"])
    row.save(force_insert=True)
    activity.record(
        by=by,
        verb="observe",
        subject=row,
        summary=f"Saw {plant} {row.get_stage_display()}, {day_text(day)}",
        undo="observations.observe",
        undo_data={"observation": row.pk},
    )
    return row


@activity.undoes("observations.observe")
def _undo_observe(data: dict, by: Person | None) -> None:
    changed = Observation.objects.filter(pk=data["observation"], taken_back=False)
    if not changed.update(taken_back=True):
        raise Refusal("It has been taken back already.")


def own_dates(plant: Plant, patch: Patch | None = None) -> list[OwnDate]:
    """For each year the first day it was seen open or picked, oldest first; two queries."""
    of_patch = Q(patch=patch) if patch else Q()
    picks = Pick.objects.filter(of_patch, plant=plant, taken_back=False).order_by()
    first = {
        found["day__year"]: OwnDate(found["day__year"], found["first"], False)
        for found in picks.values("day__year").annotate(first=Min("day"))
    }
    seen = Observation.objects.filter(of_patch, plant=plant, stage=Stage.OPEN, taken_back=False)
    for row in seen.order_by("day"):
        held = first.get(row.day.year)
        if held is None or row.day < held.day:
            first[row.day.year] = OwnDate(row.day.year, row.day, row.looked_before)
    return [first[year] for year in sorted(first)]


@dataclass(frozen=True)
class Record:
    """The house's own days of a plant, as days of a common year."""

    dates: list[OwnDate]
    earliest: int
    median: int
    latest: int


def record_of(dates: list[OwnDate]) -> Record | None:
    """Earliest, median and latest of the own days; none without any."""
    if not dates:
        return None
    days = sorted(day_of_common_year(found.day) for found in dates)
    middle = len(days) // 2
    median = days[middle] if len(days) % 2 else (days[middle - 1] + days[middle] + 1) // 2
    return Record(dates, days[0], median, days[-1])


def day_of_common_year(day: dt.date) -> int:
    """By month and day, so that a leap year moves nothing; 29 February counts as 28."""
    if (day.month, day.day) == (2, 29):
        day = day.replace(day=28)
    return day.replace(year=2001).timetuple().tm_yday


def in_year(number: int, year: int) -> dt.date:
    """The day of a common year in any year."""
    day = dt.date(2001, 1, 1) + dt.timedelta(days=number - 1)
    return day.replace(year=year)
