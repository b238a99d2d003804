"""At which stage was a plant seen, and what does the house's own record say?"""

import datetime as dt
from dataclasses import dataclass

from django.db import transaction

from inventory import activity, clock, photos
from inventory.models import Person
from inventory.refusals import Refusal
from inventory.shown import day_text
from inventory.values import check_columns, check_day
from planner.models import Observation, Patch, Plant
from planner.models.picks import Stage
from planner.phenology import Sighting, WindowState
from planner.phenology.days import DAYS_IN_COMMON_YEAR
from planner.phenology.seasons import season_number
from planner.sightings import Sightings

LATELY = 8


@dataclass(frozen=True)
class OwnDate:
    """The first day of a season on which it was seen open or picked, and its number in that year."""

    year: int
    day: dt.date
    number: int
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
    photo: bytes | None = None,
) -> Observation:
    """Note the stage of a plant on a day, also one long past, with a picture of it; atomic, can be
    undone.
    """
    check_day(day, field="day")
    if day > clock.today():
        raise Refusal(f"{day_text(day)} is still to come.", field="day")
    if stage not in Stage.values:
        raise Refusal(f"{stage!r} is no stage of a plant.", field="stage")
    row = Observation(plant=plant, patch=patch, stage=stage, day=day, by=by, note=note)
    row.looked_before = looked_before
    check_columns(row, ["note"])
    row.save(force_insert=True)
    if photo:
        words = f"{plant} {row.get_stage_display()}, {day_text(day)}"
        photos.keep(data=photo, of=row, words=words, by=by)
    activity.record(
        by=by,
        verb="observe",
        subject=row,
        summary=f"Saw {plant} {row.get_stage_display()}, {day_text(day)}",
        undo="observations.observe",
        undo_data={"observation": row.pk},
    )
    return row


def lately(plant: Plant) -> list[Observation]:
    """The newest few of a plant, each with its `photos`; two queries."""
    rows = Observation.objects.filter(plant=plant, taken_back=False)
    found = list(rows.select_related("patch", "by")[:LATELY])
    pictures = photos.of_rows(found)
    for row in found:
        row.photos = pictures.get(photos.about(row), [])
    return found


@activity.undoes("observations.observe")
def _undo_observe(data: dict, by: Person | None) -> None:
    changed = Observation.objects.filter(pk=data["observation"], taken_back=False)
    if not changed.update(taken_back=True):
        raise Refusal("It has been taken back already.")


def open_days(plant: Plant, seen: Sightings) -> list[Sighting]:
    """Every time it was seen open or picked, at whichever patch."""
    return [
        sighting
        for _, there in seen.by_patch(plant)
        for sighting in there
        if sighting.stage == WindowState.OPEN
    ]


def own_dates(plant: Plant, seen: Sightings) -> list[OwnDate]:
    """For each season the first day it was seen open or picked, oldest first.

    A season that runs over New Year goes by the year in which it opens.
    """
    middle = _middle_of(plant)
    first: dict[int, OwnDate] = {}
    for sighting in sorted(open_days(plant, seen)):
        year, number = season_number(sighting.day, middle)
        first.setdefault(year, OwnDate(year, sighting.day, number, sighting.exact))
    return [first[year] for year in sorted(first)]


def _middle_of(plant: Plant) -> float:
    """The middle of its window in the catalogue, of the year where it has none."""
    if plant.first_day is None or plant.last_day is None:
        return DAYS_IN_COMMON_YEAR / 2
    return plant.first_day + (plant.last_day - plant.first_day) % DAYS_IN_COMMON_YEAR / 2


@dataclass(frozen=True)
class Record:
    """The house's own days of a plant, as day numbers of a common year."""

    dates: list[OwnDate]
    earliest: int
    median: int
    latest: int


def record_of(dates: list[OwnDate]) -> Record | None:
    """Earliest, median and latest of the own days; none without any."""
    if not dates:
        return None
    days = sorted(found.number for found in dates)
    middle = len(days) // 2
    median = days[middle] if len(days) % 2 else (days[middle - 1] + days[middle] + 1) // 2
    return Record(dates, days[0], median, days[-1])
