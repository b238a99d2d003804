"""How many days are there to go and pick: by the house's own record, and by the forecast?"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from planner.harvest import PlantWindow
from planner.observations import Record
from planner.phenology import at_weekends, date_of, days_to_pick

NAMED = 4
Spells = Sequence[tuple[dt.date, dt.date]]


@dataclass(frozen=True)
class Outing:
    """One way to reckon a window, with the days on which somebody can go and those at weekends."""

    words: str
    first: dt.date
    last: dt.date
    days: list[dt.date]
    is_used: bool

    @property
    def more(self) -> int:
        """Weekend days beyond the few that are named."""
        return max(0, len(self.weekends) - NAMED)

    @property
    def weekends(self) -> list[dt.date]:
        return at_weekends(self.days)


def of_plant(
    window: PlantWindow, record: Record | None, *, busy: Spells, today: dt.date
) -> list[Outing]:
    """By the record's median where there is one, and as the season pages have it."""
    found = []
    if record:
        first = date_of(window.first.year, record.median)
        length = (window.last - window.first).days
        found.append(
            _outing(
                "By the own record", first, first + dt.timedelta(length), busy, today, is_used=False
            )
        )
    words = "As it was seen this year" if window.opening.seen else "By the forecast"
    found.append(_outing(words, window.first, window.last, busy, today, is_used=True))
    return found


def _outing(
    words: str, first: dt.date, last: dt.date, busy: Spells, today: dt.date, *, is_used: bool
) -> Outing:
    days = days_to_pick(max(first, today), last, busy=busy) if last >= today else []
    return Outing(words, first, last, days, is_used)
