"""When is a plant open in a given year, and how does it stand on a day?"""

from collections.abc import Hashable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta
from enum import StrEnum
from math import floor
from typing import TypeVar

from planner.phenology.days import DAYS_IN_COMMON_YEAR, date_of

# One standard deviation between years of a British first-flower date (Jeffree 1960): from here
# on a look at the plant is worth the walk. The length is a judgement.
SHOWING_DAYS = 7

Key = TypeVar("Key", bound=Hashable)


class WindowState(StrEnum):
    NOT_YET = "not yet"
    SHOWING = "showing"
    OPEN = "open"
    GOING_OVER = "going over"
    OVER = "over"


@dataclass(frozen=True)
class DatedWindow:
    """One year's window: first, best and last day for picking, all three included."""

    first: date
    peak: date
    last: date

    def __contains__(self, day: date) -> bool:
        return self.first <= day <= self.last

    @property
    def goes_over_on(self) -> date:
        """First day of the last quarter of the days from peak to last; never the peak."""
        quarter = (self.last - self.peak).days // 4
        return max(self.last - timedelta(days=quarter), self.peak + timedelta(days=1))

    def state(self, day: date, *, showing_days: int = SHOWING_DAYS) -> WindowState:
        """How this one window stands; before it always not yet, after it always over."""
        if day > self.last:
            return WindowState.OVER
        if day >= self.goes_over_on:
            return WindowState.GOING_OVER
        if day >= self.first:
            return WindowState.OPEN
        if day >= self.first - timedelta(days=showing_days):
            return WindowState.SHOWING
        return WindowState.NOT_YET

    def touches(self, start: date, end: date) -> bool:
        return self.first <= end and self.last >= start


@dataclass(frozen=True)
class Window:
    """A yearly window in common-year day numbers 1 to 365.

    It wraps when it runs over New Year; `wraps` may be left out, or given to be checked.
    """

    first: int
    peak: int
    last: int
    wraps: bool | None = None

    def __post_init__(self):
        for name in ("first", "peak", "last"):
            number = getattr(self, name)
            if not 1 <= number <= DAYS_IN_COMMON_YEAR:
                raise ValueError(f"The {name} day must lie between 1 and 365, not {number}.")
        if self._days_in(self.peak) > self._days_in(self.last):
            raise ValueError(
                f"The peak (day {self.peak}) must lie in the window from day {self.first} "
                f"to day {self.last}."
            )
        runs_over = self.last < self.first
        if self.wraps not in (None, runs_over):
            raise ValueError(
                f"Day {self.first} to day {self.last} does {'' if runs_over else 'not '}run over "
                "New Year."
            )
        object.__setattr__(self, "wraps", runs_over)

    def _days_in(self, number: int) -> int:
        return (number - self.first) % DAYS_IN_COMMON_YEAR

    @property
    def length_days(self) -> int:
        """Days for picking in a common year, first and last included."""
        return self._days_in(self.last) + 1

    def holds(self, number: int) -> bool:
        """Whether a common-year day number lies inside."""
        return self._days_in(number) <= self._days_in(self.last)

    def shifted(self, days: float) -> "Window":
        """All three days moved by the same whole number of days, halves upwards."""
        whole = floor(days + 0.5)
        return Window(
            *(
                (number + whole - 1) % DAYS_IN_COMMON_YEAR + 1
                for number in (self.first, self.peak, self.last)
            )
        )

    def in_year(self, year: int) -> DatedWindow:
        """The window whose first day falls in that year."""
        return DatedWindow(
            *(
                date_of(year, self.first + self._days_in(number))
                for number in (self.first, self.peak, self.last)
            )
        )

    def nearest(self, day: date, *, showing_days: int = SHOWING_DAYS) -> DatedWindow:
        """The window a day belongs to: the one it lies in, else the nearer of its neighbours.

        Halfway through the closed time a window stops being over and the next is not yet; a
        closed time too short for that belongs to the next as soon as it shows.
        """
        before = self.in_year(day.year)
        if before.first > day:
            before = self.in_year(day.year - 1)
        after = self.in_year(before.first.year + 1)
        until_next = (after.first - day).days
        nearer_before = (day - before.last).days <= until_next and until_next > showing_days
        return before if day <= before.last or nearer_before else after

    def state_on(self, day: date, *, showing_days: int = SHOWING_DAYS) -> WindowState:
        """How the plant stands on a day, in any year."""
        nearest = self.nearest(day, showing_days=showing_days)
        return nearest.state(day, showing_days=showing_days)

    def touching(self, start: date, end: date) -> list[DatedWindow]:
        """Every window with at least one day from start to end, both included, in order."""
        if end < start:
            raise ValueError("The last day must not come before the first.")
        dated = (self.in_year(year) for year in range(start.year - 1, end.year + 1))
        return [window for window in dated if window.touches(start, end)]


def windows_touching(
    windows: Mapping[Key, Window], *, start: date, end: date
) -> list[tuple[Key, DatedWindow]]:
    """Every window open on some day from start to end, by first day; also those begun before."""
    found = [
        (key, dated) for key, window in windows.items() for dated in window.touching(start, end)
    ]
    return sorted(found, key=lambda pair: (pair[1].first, pair[1].last))
