"""When will it go quiet, and has it: readings to curve, quiet day with a band, stuck or not?"""

import datetime as dt
import math
from collections.abc import Sequence
from dataclasses import dataclass

from planner.chemistry.figure import Rule, follows

LOGISTIC_RULE = Rule(
    "logistic curve with the finish fixed",
    "closed form; that household readings bear no more: Fermentation 2024, 10(6) 269",
    "two or more readings between start and finish; the finish is never taken from the readings",
)
TAIL_RULE = Rule(
    "exponential tail with the finish fixed",
    "closed form",
    "readings after the steepest part",
)
STILL_RULE = Rule(
    "two equal readings three days apart",
    "common practice, no norm",
    "readings brought to 20 degC; equal means within 0.001",
)

# Common practice, no norm.
EQUAL_WITHIN = 0.001
STILL_DAYS = 3.0
FINISHED_WITHIN = 0.004
QUIET_ABOVE_FINISH = 0.001
# A household hydrometer reads to 0.001; nearer than half of that to either end a point says nothing.
READING_ERROR = 0.001
USABLE_MARGIN = READING_ERROR / 2
# How far the readings are tilted for the band: by this much of their error it held the true day of 77 %
# of 1,200 simulated batches (tests/bench/bench_quiet.py's series, seeds 100 to 159).
TILT = 1.5 * READING_ERROR
# Rounding of decimal gravities must not make 0.001 count as more than 0.001.
ROUNDING = 1e-6


class TooFewReadings(ValueError):
    """The readings so far fix no curve."""


class NotFalling(TooFewReadings):
    """The readings stand or rise, so no curve of theirs goes quiet."""


@dataclass(frozen=True, slots=True)
class Reading:
    """A gravity at 20 degC, so many days after pitching."""

    day: float
    gravity: float


@dataclass(frozen=True, slots=True)
class Curve:
    """A logistic fall from start to finish."""

    start_gravity: float
    finish_gravity: float
    rate_per_day: float
    middle_day: float
    rule: Rule = LOGISTIC_RULE

    def gravity_at(self, day: float) -> float:
        return logistic_gravity(
            day=day,
            start_gravity=self.start_gravity,
            finish_gravity=self.finish_gravity,
            rate_per_day=self.rate_per_day,
            middle_day=self.middle_day,
        )

    def quiet_day(self) -> float:
        """The day it comes within 0.001 of its finish."""
        fall = self.start_gravity - self.finish_gravity
        return self.middle_day + math.log(fall / QUIET_ABOVE_FINISH - 1) / self.rate_per_day


@dataclass(frozen=True, slots=True)
class Quiet:
    """The day it should be quiet; a missing `high_day` means that it may not come of itself."""

    day: float
    low_day: float
    high_day: float | None
    curve: Curve
    rule: Rule = LOGISTIC_RULE

    def dates(self, pitched: dt.date) -> tuple[dt.date, dt.date, dt.date | None]:
        """Expected, earliest and latest date; a day begun counts as the next."""
        expected, low, high = (
            None if day is None else pitched + dt.timedelta(days=math.ceil(day))
            for day in (self.day, self.low_day, self.high_day)
        )
        return expected, low, high


@dataclass(frozen=True, slots=True)
class Stillness:
    """What the readings say: `state` is moving, still once or still twice."""

    state: str
    days_still: float
    finished: bool
    stuck: bool
    reason: str
    rule: Rule = STILL_RULE


@follows(LOGISTIC_RULE, unit="SG")
def logistic_gravity(
    *,
    day: float,
    start_gravity: float,
    finish_gravity: float,
    rate_per_day: float,
    middle_day: float,
) -> float:
    """Gravity on a day of the logistic fall."""
    # Past this the exponential overflows and the gravity is the finish to all digits.
    exponent = max(-700.0, min(700.0, rate_per_day * (day - middle_day)))
    return finish_gravity + (start_gravity - finish_gravity) / (1 + math.exp(exponent))


@follows(TAIL_RULE, unit="SG")
def tail_gravity(
    *, day: float, finish_gravity: float, amplitude: float, rate_per_day: float
) -> float:
    """Gravity on a day of the exponential tail."""
    return finish_gravity + amplitude * math.exp(-rate_per_day * day)


@follows(TAIL_RULE, unit="d")
def tail_quiet_day(*, amplitude: float, rate_per_day: float) -> float:
    """Days until the tail is within 0.001 of its finish."""
    if amplitude <= QUIET_ABOVE_FINISH:
        return 0.0
    if rate_per_day <= 0:
        raise ValueError("a tail that does not fall never goes quiet")
    return math.log(amplitude / QUIET_ABOVE_FINISH) / rate_per_day


def _line(points: Sequence[tuple[float, float, float]]) -> tuple[float, float]:
    """Slope and the x where the line crosses zero, by weighted least squares."""
    total = sum(weight for _, _, weight in points)
    mean_x = sum(weight * x for x, _, weight in points) / total
    mean_y = sum(weight * y for _, y, weight in points) / total
    spread = sum(weight * (x - mean_x) ** 2 for x, _, weight in points)
    if spread <= 0:
        raise TooFewReadings("two readings on different days are needed")
    slope = sum(weight * (x - mean_x) * (y - mean_y) for x, y, weight in points) / spread
    if slope <= 0:
        raise NotFalling("the readings do not fall")
    return slope, mean_x - mean_y / slope


def fit(readings: Sequence[Reading], *, start_gravity: float, finish_gravity: float) -> Curve:
    """Fit rate and middle day to readings; start and finish stand fixed.

    The logit of a gravity is a straight line in time; each point weighs by how little a reading
    error moves it.
    """
    if start_gravity - finish_gravity <= 2 * READING_ERROR:
        raise ValueError("start and finish must lie more than 0.002 apart")
    points = []
    for reading in readings:
        above, below = start_gravity - reading.gravity, reading.gravity - finish_gravity
        if above > USABLE_MARGIN and below > USABLE_MARGIN:
            points.append((reading.day, math.log(above / below), (above * below) ** 2))
    if len(points) < 2:
        raise TooFewReadings("two readings between start and finish are needed")
    return Curve(start_gravity, finish_gravity, *_line(points))


def _tail_day(readings: Sequence[Reading], *, start_gravity: float, finish_gravity: float) -> float:
    middle = (start_gravity + finish_gravity) / 2
    points = []
    for reading in readings:
        above = reading.gravity - finish_gravity
        if above > USABLE_MARGIN and reading.gravity < middle:
            points.append((reading.day, -math.log(above / QUIET_ABOVE_FINISH), above**2))
    if len(points) < 2:
        raise TooFewReadings("two readings in the tail are needed")
    return _line(points)[1]


def _other_readings(readings: Sequence[Reading]) -> list[list[Reading]]:
    """The same readings with one left out, and tilted either way by the reading error."""
    half = len(readings) / 2
    tilted = [
        [
            Reading(found.day, found.gravity + sign * TILT * (1 if place < half else -1))
            for place, found in enumerate(readings)
        ]
        for sign in (1, -1)
    ]
    without = [
        list(readings[:place]) + list(readings[place + 1 :]) for place in range(len(readings))
    ]
    return tilted + (without if len(readings) > 2 else [])


def quiet(
    readings: Sequence[Reading],
    *,
    start_gravity: float,
    finish_gravity: float,
    finish_low: float | None = None,
    finish_high: float | None = None,
) -> Quiet:
    """The quiet day with a band from refits: readings tilted, left out, and the finish's range."""
    ordered = sorted(readings, key=lambda reading: reading.day)
    curve = fit(ordered, start_gravity=start_gravity, finish_gravity=finish_gravity)
    days: list[float | None] = [curve.quiet_day()]
    finishes = {finish_gravity, finish_low or finish_gravity, finish_high or finish_gravity}
    for finish in sorted(finishes):
        for others in [ordered, *_other_readings(ordered)]:
            days += _refit_days(others, start_gravity=start_gravity, finish_gravity=finish)
    known = [day for day in days if day is not None]
    high = None if None in days else max(known)
    return Quiet(curve.quiet_day(), min(known), high, curve)


def _refit_days(
    readings: Sequence[Reading], *, start_gravity: float, finish_gravity: float
) -> list[float | None]:
    """Quiet days of the curve and of the tail; None where the refit never goes quiet."""
    pair = {"start_gravity": start_gravity, "finish_gravity": finish_gravity}
    days: list[float | None] = []
    for refit in (lambda: fit(readings, **pair).quiet_day(), lambda: _tail_day(readings, **pair)):
        try:
            days.append(refit())
        except NotFalling:
            days.append(None)
        except TooFewReadings:
            continue
    return days


def stillness(readings: Sequence[Reading], *, expected_finish: float | None) -> Stillness:
    """Moving, still once or still twice; and when still twice, finished or stuck.

    Equal readings above the expected finish mean stuck, not finished; without an expected finish
    neither is said.
    """
    ordered = sorted(readings, key=lambda reading: reading.day)
    if not ordered:
        return Stillness("moving", 0.0, False, False, "no reading yet")
    run = _equal_run(ordered)
    days = run[-1].day - run[0].day
    if len(run) < 2:
        return Stillness("moving", 0.0, False, False, "no two equal readings yet")
    if days < STILL_DAYS:
        return Stillness(
            "still once", days, False, False, f"equal for {days:g} days, {STILL_DAYS:g} are wanted"
        )
    return _settled(run[-1].gravity, days, expected_finish)


def _settled(gravity: float, days: float, expected_finish: float | None) -> Stillness:
    state = "still twice"
    if expected_finish is None:
        return Stillness(
            state, days, False, False, "the expected finish is not known: finished or stuck?"
        )
    limit = expected_finish + FINISHED_WITHIN
    if gravity <= limit + ROUNDING:
        return Stillness(state, days, True, False, f"{gravity:.3f} is at or below {limit:.3f}")
    return Stillness(
        state, days, False, True, f"stuck: {gravity:.3f} stands above the expected {limit:.3f}"
    )


def _equal_run(ordered: Sequence[Reading]) -> list[Reading]:
    """The last readings that all lie within 0.001 of each other."""
    run = [ordered[-1]]
    for reading in reversed(ordered[:-1]):
        gravities = [found.gravity for found in (*run, reading)]
        if max(gravities) - min(gravities) > EQUAL_WITHIN + ROUNDING:
            break
        run.insert(0, reading)
    return run
