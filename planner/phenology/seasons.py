"""Which season does a sighting belong to, and what do the sightings of a season say?

A season is named by the year in which its window opens, so that one over New Year is one season.
"""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from typing import NamedTuple

from planner.phenology.days import DAYS_IN_COMMON_YEAR
from planner.phenology.window import Window, WindowState

CUE = "cue"
_BEFORE_2001 = dt.date(2000, 12, 31).toordinal()


class Sighting(NamedTuple):
    """A stage seen on a day: a `WindowState`, or the cue; `exact` where the day before was looked at.

    A pick is a sighting of it open.
    """

    day: dt.date
    stage: str
    exact: bool = False


@dataclass(slots=True)
class Season:
    """Day numbers of one season: when it was first seen open, last seen not open, and so on.

    They are brought to the spot; `first_seen` alone is the day it really was, at whichever patch.
    """

    opened: float | None = None
    first_seen: int | None = None
    exact: bool = False
    not_yet: float | None = None
    going_over: float | None = None
    over: float | None = None

    def add(self, seen_on: int, later: float, sighting: Sighting) -> None:
        """`later` is by how many days the patch comes after the spot."""
        stage, number = sighting.stage, seen_on - later
        if stage == WindowState.OPEN:
            self.first_seen = min(seen_on, self.first_seen or seen_on)
            if self.opened is None or (number, not sighting.exact) < (self.opened, not self.exact):
                self.opened, self.exact = number, sighting.exact
        elif stage in (WindowState.NOT_YET, WindowState.SHOWING):
            self.not_yet = max(number, self.not_yet or number)
        elif stage == WindowState.GOING_OVER:
            self.going_over = min(number, self.going_over or number)
        elif stage == WindowState.OVER:
            self.over = min(number, self.over or number)

    @property
    def is_exact(self) -> bool:
        """Whether the day before the first open one was looked at, in whichever way it was noted."""
        looked = self.not_yet is not None and self.opened is not None
        return self.exact or (looked and 0 <= self.opened - self.not_yet <= 1)


def season_number(day: dt.date, middle: float) -> tuple[int, int]:
    """The season a day belongs to, and its number there; `middle` is the middle of the window.

    The number runs on past 365 after New Year, and 29 February counts as the day before it.
    """
    february = (day.month, day.day) == (2, 29)
    common = dt.date(2001, day.month, 28 if february else day.day).toordinal() - _BEFORE_2001
    half = DAYS_IN_COMMON_YEAR / 2
    number = round(middle + (common - middle + half) % DAYS_IN_COMMON_YEAR - half)
    return day.year - (number - common) // DAYS_IN_COMMON_YEAR, number


def by_season(
    groups: Iterable[tuple[float, Iterable[Sighting]]], window: Window
) -> dict[int, Season]:
    """The sightings of each season: in each group with the days by which they come after the spot."""
    middle = window.first + (window.length_days - 1) / 2
    found: dict[int, Season] = {}
    for later, sightings in groups:
        for sighting in sightings:
            year, number = season_number(sighting.day, middle)
            held = found.get(year)
            if held is None:
                held = found[year] = Season()
            held.add(number, later, sighting)
    return found
