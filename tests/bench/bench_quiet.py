"""How often does the quiet day lie in the band told from the first half of a batch's readings?

Twenty simulated batches (a logistic fall with a slow tail, read every two days to 0.001 with an error of
0.001; seed 7) and five typed series in the manner of a house's notebook. Each is fitted on the readings
of its first half, with the finish given as the house would expect it, 0.002 either way. Beside the miss of
the told day stands that of "as many days as the batch before".

    python -m tests.bench.bench_quiet
"""

import math
import random
from statistics import fmean

from planner.kinetics import Curve, Reading, TooFewReadings, quiet

SEED, NOISE, EVERY = 7, 0.001, 2
# Day and gravity as somebody might have noted them, to the finish; made up, no source.
TYPED = (
    [(0, 1.085), (2, 1.076), (4, 1.055), (6, 1.034), (8, 1.018), (11, 1.006), (14, 1.000), (18, 0.996), (22, 0.995), (26, 0.994), (32, 0.994)],
    [(0, 1.092), (3, 1.078), (5, 1.060), (7, 1.043), (10, 1.024), (13, 1.012), (17, 1.003), (21, 0.998), (26, 0.996), (31, 0.995), (38, 0.995)],
    [(0, 1.070), (1, 1.064), (3, 1.043), (5, 1.023), (7, 1.010), (9, 1.002), (12, 0.997), (15, 0.995), (19, 0.994), (24, 0.994)],
    [(0, 1.100), (4, 1.086), (8, 1.062), (12, 1.040), (16, 1.024), (20, 1.013), (25, 1.005), (31, 1.000), (38, 0.998), (46, 0.997), (55, 0.997)],
    [(0, 1.080), (2, 1.068), (4, 1.047), (6, 1.027), (8, 1.013), (10, 1.005), (13, 0.999), (16, 0.997), (20, 0.995), (25, 0.995)],
)  # fmt: skip


def simulated(rng):
    """A series and the day it truly came within 0.001 of its finish."""
    curve = Curve(
        rng.uniform(1.070, 1.100),
        rng.uniform(0.992, 0.998),
        rng.uniform(0.3, 0.8),
        rng.uniform(3, 7),
    )
    day, readings = 0, []
    true = curve.quiet_day()
    while day < true + 8:
        gravity = curve.gravity_at(day) + rng.gauss(0, NOISE)
        readings.append(Reading(day, round(gravity, 3)))
        day += EVERY
    return readings, curve.finish_gravity, true


def typed(series):
    """The day of a notebook on which it first stood within 0.001 of its end, between two readings."""
    readings = [Reading(day, gravity) for day, gravity in series]
    finish = readings[-1].gravity
    for before, after in zip(readings, readings[1:], strict=False):
        if after.gravity <= finish + 0.001 < before.gravity:
            share = (before.gravity - finish - 0.001) / (before.gravity - after.gravity)
            return readings, finish, before.day + share * (after.day - before.day)
    return readings, finish, readings[-1].day


def told(readings, finish, true):
    """From the readings of the first half of the time it took."""
    half = [reading for reading in readings if 0 < reading.day <= true / 2]
    return quiet(
        half,
        start_gravity=readings[0].gravity,
        finish_gravity=finish,
        finish_low=finish - 0.002,
        finish_high=finish + 0.002,
    )


def main():
    rng = random.Random(SEED)
    batches = [simulated(rng) for _ in range(20)] + [typed(series) for series in TYPED]
    inside, ours, lasts, widths, last = 0, [], [], [], None
    for readings, finish, true in batches:
        try:
            found = told(readings, finish, true)
        except TooFewReadings:
            print(f"{true:6.1f} d: too few readings in its first half")
            continue
        high = math.inf if found.high_day is None else found.high_day
        inside += found.low_day <= true <= high
        ours.append(abs(found.day - true))
        widths.append(min(high, 99) - found.low_day)
        if last is not None:
            lasts.append(abs(last - true))
        last = true
    print(f"seed {SEED}: {inside} of {len(ours)} within the band, {inside / len(ours):.0%}")
    print(
        f"mean miss {fmean(ours):.1f} d, as the batch before {fmean(lasts):.1f} d; band {fmean(widths):.1f} d"
    )


if __name__ == "__main__":
    main()
