"""How far may an opening lie from its expected day?"""

from dataclasses import dataclass
from datetime import date, timedelta
from math import isfinite

# Jeffree 1960, QJRMS 86: yearly standard deviation of 11 British flowers, averaged.
BETWEEN_YEAR_SD_DAYS = 7.0
# Standard normal quantile for 0.90, so that 80 % lies between minus and plus; printed tables.
_Z_80 = 1.2816


@dataclass(frozen=True)
class Interval:
    """From the earliest to the latest day, both included."""

    earliest: date
    latest: date

    def __contains__(self, day: date) -> bool:
        return self.earliest <= day <= self.latest


def half_width_days(sd_days: float = BETWEEN_YEAR_SD_DAYS) -> float:
    """Days on either side that hold four openings in five, for a normal spread."""
    if not (isfinite(sd_days) and 0 <= sd_days <= 365):
        raise ValueError(f"A spread must lie between 0 and 365 days, not {sd_days}.")
    return _Z_80 * sd_days


def opening_interval(opening: date, *, sd_days: float = BETWEEN_YEAR_SD_DAYS) -> Interval:
    """The 80 % interval for an opening expected on that day, to the nearest whole day."""
    reach = timedelta(days=round(half_width_days(sd_days)))
    return Interval(earliest=opening - reach, latest=opening + reach)
