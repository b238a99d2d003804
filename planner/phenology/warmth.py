"""How much warmth has a day, or a season, above a threshold? Degree-days.

Temperatures are degrees Celsius, degree-days are degrees Celsius times days. A threshold found by one
method holds for that method only (Oregon State University, on calculation methods).
"""

from collections.abc import Callable, Iterable
from enum import StrEnum
from math import asin, cos, isfinite, pi

# The coldest and hottest air ever read lie within; a guard against slips, from memory.
COLDEST_C, HOTTEST_C = -95.0, 65.0


class Method(StrEnum):
    """How the day is drawn between its lowest and its highest temperature."""

    AVERAGE = "average"
    TRIANGLE = "triangle"
    SINE = "sine"


def degree_days(
    *,
    low_c: float,
    high_c: float,
    base_c: float,
    method: Method = Method.SINE,
    cutoff_c: float | None = None,
) -> float:
    """The degree-days of one day above `base_c`; with a horizontal cut-off above `cutoff_c`.

    Average: the mean over the base. Triangle: Zalom et al. 1983. Sine: Baskerville and Emin 1969.
    Raises ValueError where the lowest is above the highest, the cut-off not above the base, or a
    temperature outside -95 to 65.
    """
    for name, value in (("lowest", low_c), ("highest", high_c), ("base", base_c)):
        if not (isfinite(value) and COLDEST_C <= value <= HOTTEST_C):
            raise ValueError(f"The {name} must lie between {COLDEST_C:g} and {HOTTEST_C:g} °C.")
    if low_c > high_c:
        raise ValueError(f"The lowest, {low_c:g} °C, lies above the highest, {high_c:g} °C.")
    if cutoff_c is not None and cutoff_c <= base_c:
        raise ValueError(f"The cut-off, {cutoff_c:g} °C, must lie above the base, {base_c:g} °C.")
    above = _ABOVE[method]
    # Horizontal cut-off: what lies above it counts for nothing (UC IPM glossary).
    too_hot = 0.0 if cutoff_c is None else above(low_c, high_c, cutoff_c)
    return above(low_c, high_c, base_c) - too_hot


def _average(low: float, high: float, base: float) -> float:
    return max(0.0, (low + high) / 2 - base)


def _triangle(low: float, high: float, base: float) -> float:
    if high <= base:
        return 0.0
    if low >= base:
        return (low + high) / 2 - base
    return (high - base) ** 2 / (2 * (high - low))


def _sine(low: float, high: float, base: float) -> float:
    mean, half = (low + high) / 2, (high - low) / 2
    if high <= base:
        return 0.0
    if low >= base:
        return mean - base
    angle = asin((base - mean) / half)
    return ((mean - base) * (pi / 2 - angle) + half * cos(angle)) / pi


_ABOVE: dict[Method, Callable[[float, float, float], float]] = {
    Method.AVERAGE: _average,
    Method.TRIANGLE: _triangle,
    Method.SINE: _sine,
}


def warmth_of(
    days: Iterable[tuple[float, float]], *, base_c: float, method: Method = Method.SINE
) -> float:
    """The degree-days of several days, each (lowest, highest)."""
    return sum(
        degree_days(low_c=low, high_c=high, base_c=base_c, method=method) for low, high in days
    )


def day_passed(means_c: Iterable[float], *, base_c: float, threshold: float) -> tuple[int, float]:
    """On which day of daily means the sum over the base reaches the threshold, and the sum then.

    The first day is 1. Raises ValueError where it is never reached.
    """
    total = 0.0
    for day, mean in enumerate(means_c, start=1):
        total += degree_days(low_c=mean, high_c=mean, base_c=base_c, method=Method.AVERAGE)
        if total >= threshold:
            return day, total
    raise ValueError(f"The sum of {threshold:g} degree-days is never reached.")
