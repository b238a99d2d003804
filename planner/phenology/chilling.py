"""How much winter has a bud had? Chilling by hours, by Utah units, by portions.

Temperatures are degrees Celsius, one for each hour.
"""

from collections.abc import Iterable, Sequence
from math import cos, exp, pi

# "Hours from 0 to 7.2 °C", that is 32 to 45 °F; common practice, from memory.
CHILLING_HOURS_C = (0.0, 7.2)
# Richardson, Seeley and Walker 1974, through two printed tables: up to so warm, so much for an hour.
# At exactly 18.0 °C print differs; here it counts as above.
UTAH_STEPS = ((1.4, 0.0), (2.4, 0.5), (9.1, 1.0), (12.4, 0.5), (15.9, 0.0), (18.0, -0.5))
UTAH_ABOVE = -1.0
# Fishman, Erez and Couvillon 1987: slope, the kelvin of the transition, activation energies and
# rates; from memory, checked against a reference library.
SLOPE, TRANSITION_K = 1.6, 277.0
E0_K, E1_K, A0, A1 = 4153.5, 12888.8, 139_500.0, 2.567e18
ZERO_C_K = 273.0
# Common practice, no source: the hour of the day at which it is warmest.
HOTTEST_HOUR = 15


def hours_of(low_c: float, high_c: float, *, hottest_hour: int = HOTTEST_HOUR) -> list[float]:
    """The 24 temperatures of a day, drawn as a cosine that is highest at `hottest_hour`."""
    if low_c > high_c:
        raise ValueError(f"The lowest, {low_c:g} °C, lies above the highest, {high_c:g} °C.")
    mean, half = (low_c + high_c) / 2, (high_c - low_c) / 2
    return [mean + half * cos(2 * pi * (hour - hottest_hour) / 24) for hour in range(24)]


def chilling_hours(hourly_c: Iterable[float]) -> int:
    """Hours from 0 to 7.2 °C, both included."""
    low, high = CHILLING_HOURS_C
    return sum(low <= warmth <= high for warmth in hourly_c)


def utah_units(hourly_c: Iterable[float]) -> float:
    """Utah units: half and whole hours of chill, and warm hours that undo it."""
    return sum(map(_utah, hourly_c))


def _utah(warmth: float) -> float:
    for until, units in UTAH_STEPS[:-1]:
        if warmth <= until:
            return units
    until, units = UTAH_STEPS[-1]
    return units if warmth < until else UTAH_ABOVE


def chill_portions(hourly_c: Sequence[float]) -> float:
    """Chill portions of the dynamic model.

    Cold makes an intermediate that warmth takes away again; each time it comes to one whole, the share
    that the warmth lets through is fixed as a portion. The share carried over is that of the hour
    before.
    """
    intermediate, portions, share = 0.0, 0.0, 0.0
    for n, warmth in enumerate(hourly_c):
        kelvin = warmth + ZERO_C_K
        if n:
            intermediate -= intermediate * share if intermediate >= 1 else 0.0
        ratio = A0 / A1 * exp((E1_K - E0_K) / kelvin)
        rate = A1 * exp(-E1_K / kelvin)
        intermediate = ratio - (ratio - intermediate) * exp(-rate)
        share = _share(kelvin)
        if intermediate >= 1:
            portions += intermediate * share
    return portions


def _share(kelvin: float) -> float:
    """How much of a whole intermediate is fixed in an hour of this warmth."""
    grown = exp(SLOPE * TRANSITION_K * (kelvin - TRANSITION_K) / kelvin)
    return grown / (1 + grown)
