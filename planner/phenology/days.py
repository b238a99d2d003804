"""Which date of a given year does a day number mean, and back?

Day numbers count a common year, 29 February left out: day 60 is 1 March in every year.
"""

from datetime import date, timedelta
from functools import lru_cache

DAYS_IN_COMMON_YEAR = 365
# Any year that is not a leap year would do.
_COMMON_YEAR = 2001


def common_day(day: date) -> int:
    """Day number 1 to 365 by month and day; 29 February reads as 28 February, day 59."""
    if (day.month, day.day) == (2, 29):
        return 59
    return date(_COMMON_YEAR, day.month, day.day).timetuple().tm_yday


@lru_cache(maxsize=20_000)
def date_of(year: int, number: int) -> date:
    """The date in `year` with that day number.

    Numbers below 1 or above 365 lie in the years before or after: 0 is 31 December before.
    """
    years, index = divmod(number - 1, DAYS_IN_COMMON_YEAR)
    in_common_year = date(_COMMON_YEAR, 1, 1) + timedelta(days=index)
    return in_common_year.replace(year=year + years)
