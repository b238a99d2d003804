"""Thermal time against what a reference library fitted to open flowering records."""

from math import sqrt
from statistics import fmean

import pytest

from planner.phenology import Seen, Weather, fit, forecast, foretell, means_of
from planner.phenology.warmth import degree_days
from tests.reference.open_flowering import bushes, records, temperatures

TEMPERATURES = temperatures()


def day_reached(year, *, gain, start, threshold):
    total = 0.0
    for day in range(1, 299):
        if day >= start:
            total += gain(TEMPERATURES[year][day])
        if total >= threshold:
            return day
    raise AssertionError(f"never reached in {year}")


def error(phase, **model):
    misses = [day_reached(year, **model) - day for year, day in records(phase)]
    return sqrt(fmean(miss**2 for miss in misses))


def over(base):
    """Degree-days above a base."""
    return lambda mean: degree_days(low_c=mean, high_c=mean, base_c=base)


def whole_above(base):
    """As the library sums: the whole temperature of a day above the base, the base not taken off."""
    return lambda mean: mean if mean > base else 0.0


# pyPhenology 0.7.1, thermal time from 1 January over 0 degC: there both ways of summing are one.
@pytest.mark.parametrize(
    ("phase", "threshold", "misses"), [("flowers", 448.2, 3.295), ("budburst", 272.8, 5.657)]
)
def test_degree_days_miss_as_the_library_says_and_its_threshold_is_the_best(
    phase, threshold, misses
):
    model = {"gain": over(0), "start": 1}
    found = error(phase, threshold=threshold, **model)

    assert found == pytest.approx(misses, abs=0.05)
    for share in (0.9, 0.95, 1.06, 1.12):
        assert error(phase, threshold=share * threshold, **model) > found


# C34 and C35: over a base above 0 its threshold is no sum of degree-days.
@pytest.mark.parametrize(
    ("phase", "start", "base", "threshold", "misses"),
    [("flowers", 1, 5, 375.27, 3.10), ("budburst", 86.62, 8.084, 104.36, 2.915)],
)
def test_the_models_of_the_library_miss_as_it_says(phase, start, base, threshold, misses):
    found = error(phase, gain=whole_above(base), start=start, threshold=threshold)

    assert found == pytest.approx(misses, abs=0.05)


# Our own search over starts and bases is not to be worse than that one model.
def test_our_own_fit_is_no_worse_than_the_library_with_start_and_base_held():
    days = {
        year: fmean(d for y, d in records("flowers") if y == year) for year in range(1990, 2002)
    }
    years = {
        year: {day: (mean, mean) for day, mean in held.items()}
        for year, held in TEMPERATURES.items()
    }
    found = fit(sorted(days.items()), Weather(years, means_of(list(years.values()))))

    model = {"gain": over(found.base_c), "start": found.start, "threshold": found.threshold}
    assert error("flowers", **model) <= 3.10 + 0.05


def foretold(bush, year, *, before_days):
    """What could be said so many days before the usual day, from nothing later."""
    past = sorted(y for y in bush if y < year)
    usual = fmean(bush[y] for y in past)
    today = round(usual) - before_days
    known = {
        y: {d: (t, t) for d, t in TEMPERATURES[y].items() if y < year or d <= today}
        for y in range(1989, year + 1)
    }
    weather = Weather(known, means_of([known[y] for y in known if y < year]))
    warming = fit([(y, bush[y]) for y in past], weather)
    reached = foretell(warming, weather=weather, year=year, today=today)
    seen = [Seen(bush[y]) for y in past]
    found = forecast(
        usual=bush[past[0]], usual_words="the first year", place_sd=30, seen=seen, reached=reached
    )
    return found, usual


@pytest.mark.parametrize("before_days", [42, 14])
def test_forecasts_from_nothing_later_beat_the_plain_mean(before_days):
    ours, means, inside = [], [], []
    for bush in (*bushes("budburst"), *bushes("flowers")):
        for year in range(1994, 2002):
            found, usual = foretold(bush, year, before_days=before_days)
            low, high = found.interval
            ours.append(found.expected - bush[year])
            means.append(usual - bush[year])
            inside.append(round(low) <= bush[year] <= round(high))

    assert fmean(map(abs, ours)) < fmean(map(abs, means))
    assert 0.70 <= fmean(inside) <= 0.90
