"""When has it been warm enough? A thermal-time forecast from a house's own dates and weather.

A year of weather is a mapping from day numbers of a common year to that day's lowest and highest
temperature in degrees Celsius. Sums run from a start day, over a base, by the single sine.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field
from functools import lru_cache
from math import sqrt
from statistics import fmean, stdev

from planner.phenology.days import DAYS_IN_COMMON_YEAR
from planner.phenology.warmth import degree_days

Year = Mapping[int, tuple[float, float]]

# Fitted on sweet cherry at one German station, the start day matters more than the base: one badly
# chosen is worse than the calendar. So a few of each are tried on the house's own years.
STARTS = (1, 32, 60, 91)
BASES_C = (0.0, 3.0, 5.0, 7.0)
# With fewer years a threshold is not to be told from chance; a judgement, no source.
LEAST_YEARS = 4
# Chill and degree-day models of apple and pear flowering, Belgium 1950-2018, err by 5.0 days (Drepper
# et al. 2020). A house's few years count beside as many years of that; how many is a judgement.
USUAL_ERROR_DAYS, USUAL_YEARS = 5.0, 4
# Of the days summed, so many may be missing; a judgement, no source.
MOST_MISSING = 0.10
# The last days before today may not have come in yet; a judgement, no source.
LATEST_GAP_DAYS = 14
# How far the mean of coming weeks lies from its normal: spring months of a British station 1991-2020
# have standard deviations of 1.0 to 1.4 °C.
WEEKS_SD_C = 1.2
# So many years are enough to show how a season may go on; a judgement, no source.
ENOUGH_YEARS = 5
MIDDLES = (15.5, 45.0, 74.5, 105.0, 135.5, 166.0, 196.5, 227.5, 258.0, 288.5, 319.0, 349.5)


@dataclass(frozen=True, slots=True)
class Warming:
    """A threshold found on a house's own years; `error_sd` is how far it missed years left out."""

    start: int
    base_c: float
    threshold: float
    error_sd: float
    years: int


@dataclass(frozen=True, slots=True)
class Reached:
    """The day a threshold is reached, its standard deviation, and how warm it has been so far."""

    mean: float
    sd: float
    so_far: float


@dataclass(frozen=True)
class Weather:
    """The house's years and its normals; each sum is worked out once."""

    years: Mapping[int, Year]
    normals: Year
    _known: dict[tuple[int, int, float], dict[int, float]] = field(default_factory=dict)

    def sums(self, year: int, start: int, base_c: float) -> dict[int, float]:
        """The degree-days by the end of each day of a year from `start` on; empty with many gaps."""
        key = (year, start, base_c)
        if key not in self._known:
            self._known[key] = sums_of(self.years.get(year, {}), start=start, base_c=base_c)
        return self._known[key]


def sums_of(year: Year, *, start: int, base_c: float) -> dict[int, float]:
    """The degree-days by the end of each day from `start` on; empty where many days are missing."""
    days = [day for day in year if day >= start]
    if not days:
        return {}
    last = max(days)
    if len(days) < (1 - MOST_MISSING) * (last - start + 1):
        return {}
    sums, total, gained = {}, 0.0, 0.0
    for day in range(start, last + 1):
        if day in year:
            gained = _gain(*year[day], base_c)
        # A missing day gains as the day before it did: at most one in ten, as checked.
        total += gained
        sums[day] = total
    return sums


@lru_cache(maxsize=100_000)
def _gain(low_c: float, high_c: float, base_c: float) -> float:
    return degree_days(low_c=low_c, high_c=high_c, base_c=base_c)


def fit(events: Sequence[tuple[int, float]], weather: Weather) -> Warming | None:
    """The start, base and threshold that miss the own (year, day) least, each left out once.

    None with fewer than four years that have both a day and weather.
    """
    found = []
    for start in STARTS:
        for base in BASES_C:
            tried = [(day, weather.sums(year, start, base)) for year, day in events]
            usable = [(day, sums) for day, sums in tried if sums and start < day <= max(sums)]
            if len(usable) >= max(LEAST_YEARS, len(events) // 2):
                found.append(_judged(usable, start, base))
    return min(found, key=lambda warming: warming.error_sd, default=None)


def _judged(pairs: Sequence[tuple[float, dict[int, float]]], start: int, base: float) -> Warming:
    """Each year foretold by the threshold of the others."""
    reached = [sums[int(day)] for day, sums in pairs]
    total, n = sum(reached), len(pairs)
    misses = [
        _day_of(sums, (total - own) / (n - 1)) - day
        for (day, sums), own in zip(pairs, reached, strict=True)
    ]
    own_misses = sum(miss**2 for miss in misses)
    error = sqrt((own_misses + USUAL_YEARS * USUAL_ERROR_DAYS**2) / (n - 1 + USUAL_YEARS))
    return Warming(start, base, total / n, error, n)


def _day_of(sums: Mapping[int, float], threshold: float) -> float:
    """The day on which the sum reaches it; beyond the last day at the pace of the last week."""
    for day, total in sums.items():
        if total >= threshold:
            return float(day)
    last = max(sums)
    pace = max((sums[last] - sums.get(last - 7, 0.0)) / 7, 0.5)
    return min(last + (threshold - sums[last]) / pace, DAYS_IN_COMMON_YEAR)


def foretell(warming: Warming, *, weather: Weather, year: int, today: int) -> Reached | None:
    """When the threshold is reached: the days of this year until `today`, then how it may go on.

    The rest of each other year is one way; with fewer than five of them the normals are, 1.2 °C
    warmer and colder. None where this year has many gaps or its days end a fortnight before today.
    """
    known = {day: pair for day, pair in weather.years.get(year, {}).items() if day <= today}
    so_far = sums_of(known, start=warming.start, base_c=warming.base_c)
    if today >= warming.start and (not so_far or max(so_far) < today - LATEST_GAP_DAYS):
        return None
    held = so_far[max(so_far)] if so_far else 0.0
    if held >= warming.threshold:
        return Reached(_day_of(so_far, warming.threshold), warming.error_sd, held)
    after = max(so_far) if so_far else warming.start - 1
    mean, spread = _ways_on(warming, weather, year, after, held)
    return Reached(mean, sqrt(spread**2 + warming.error_sd**2), held)


def _ways_on(
    warming: Warming, weather: Weather, year: int, after: int, held: float
) -> tuple[float, float]:
    others = (days for number, days in weather.years.items() if number != year)
    gone = [_goes_on(other, weather.normals, after, warming, held) for other in others]
    ways = [way for way in gone if way is not None]
    if len(ways) >= ENOUGH_YEARS:
        return fmean(ways), stdev(ways) * sqrt(1 + 1 / len(ways))
    cold, usual, warm = (
        _goes_on(_warmer(weather.normals, by), weather.normals, after, warming, held)
        for by in (-WEEKS_SD_C, 0.0, WEEKS_SD_C)
    )
    return usual, (cold - warm) / 2


def _goes_on(way: Year, normals: Year, after: int, warming: Warming, held: float) -> float | None:
    """The day on which the threshold is reached if the days after go as `way` has them."""
    total, day, missing = held, after, 0
    while total < warming.threshold and day < DAYS_IN_COMMON_YEAR:
        day += 1
        missing += day not in way
        total += _gain(*way.get(day, normals[day]), warming.base_c)
    return float(day) if missing <= MOST_MISSING * (day - after) else None


def _warmer(year: Year, by_c: float) -> Year:
    return {day: (low + by_c, high + by_c) for day, (low, high) in year.items()}


def normal_year(
    lows_c: Sequence[float], highs_c: Sequence[float]
) -> dict[int, tuple[float, float]]:
    """Monthly normals, January first, as days: straight between the middles of the months.

    Raises ValueError where there are not twelve pairs or a lowest lies above its highest.
    """
    if not len(lows_c) == len(highs_c) == 12:
        raise ValueError("Normals are twelve months of lowest and of highest temperatures.")
    for low, high in zip(lows_c, highs_c, strict=True):
        if low > high:
            raise ValueError(f"A month's lowest, {low:g} °C, lies above its highest, {high:g} °C.")
    return {
        day: (_between(lows_c, day), _between(highs_c, day))
        for day in range(1, DAYS_IN_COMMON_YEAR + 1)
    }


def _between(months: Sequence[float], day: int) -> float:
    after = next((n for n, middle in enumerate(MIDDLES) if day < middle), 12)
    first, second = (after - 1) % 12, after % 12
    begins = MIDDLES[first] - (DAYS_IN_COMMON_YEAR if after == 0 else 0)
    ends = MIDDLES[second] + (DAYS_IN_COMMON_YEAR if after == 12 else 0)
    share = (day - begins) / (ends - begins)
    return months[first] + share * (months[second] - months[first])


def means_of(years: Sequence[Year]) -> dict[int, tuple[float, float]]:
    """The mean of each day number over several years and a fortnight either side.

    For a house without normals; empty unless the years together have every day of a year near.
    """
    totals = [(0.0, 0.0, 0)] * (DAYS_IN_COMMON_YEAR + 1)
    for year in years:
        for day, (low, high) in year.items():
            if 1 <= day <= DAYS_IN_COMMON_YEAR:
                lows, highs, count = totals[day]
                totals[day] = (lows + low, highs + high, count + 1)
    found = {}
    for day in range(1, DAYS_IN_COMMON_YEAR + 1):
        near = [totals[(d - 1) % DAYS_IN_COMMON_YEAR + 1] for d in range(day - 14, day + 15)]
        count = sum(n for *_, n in near)
        if not count:
            return {}
        found[day] = (
            sum(low for low, *_ in near) / count,
            sum(high for _, high, _ in near) / count,
        )
    return found
