"""On which days of a window can this house go?"""

import datetime as dt
from collections.abc import Iterable

SATURDAY = 5


def days_to_pick(
    first: dt.date, last: dt.date, *, busy: Iterable[tuple[dt.date, dt.date]] = ()
) -> list[dt.date]:
    """The days from first to last, both included, on which nobody is away; spells include both ends."""
    spells = [spell for spell in busy if spell[0] <= last and spell[1] >= first]
    days = (first + dt.timedelta(n) for n in range((last - first).days + 1))
    return [day for day in days if not any(begin <= day <= end for begin, end in spells)]


def at_weekends(days: Iterable[dt.date]) -> list[dt.date]:
    """Those that are a Saturday or a Sunday."""
    return [day for day in days if day.weekday() >= SATURDAY]
