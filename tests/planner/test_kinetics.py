import datetime as dt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.kinetics import (
    Curve,
    Quiet,
    Reading,
    TooFewReadings,
    fit,
    logistic_gravity,
    quiet,
    stillness,
    tail_gravity,
    tail_quiet_day,
)

DAMSON = Curve(1.090, 0.992, 0.55, 4.0)


def read_off(curve, days, digits=None):
    gravities = (curve.gravity_at(day) for day in days)
    return [
        Reading(day, gravity if digits is None else round(gravity, digits))
        for day, gravity in zip(days, gravities, strict=True)
    ]


@settings(deadline=None, derandomize=True)
@given(st.floats(0.1, 1.5), st.floats(1, 10))
def test_the_curve_behind_exact_readings_is_found_again(rate, middle):
    curve = Curve(1.090, 0.992, rate, middle)
    readings = read_off(curve, [middle - 1.0, middle, middle + 1.5])

    found = fit(readings, start_gravity=1.090, finish_gravity=0.992)

    assert found.rate_per_day == pytest.approx(rate, rel=1e-6)
    assert found.middle_day == pytest.approx(middle, rel=1e-6)


@settings(deadline=None, derandomize=True)
@given(st.floats(-50, 2000), st.floats(0.01, 20))
def test_gravity_never_leaves_the_span_from_start_to_finish(day, step):
    now = DAMSON.gravity_at(day)
    later = DAMSON.gravity_at(day + step)

    assert 0.992 <= later <= now <= 1.090


def test_the_quiet_day_comes_with_a_band_round_it():
    readings = read_off(DAMSON, [1.5, 3, 4.5, 6, 8], digits=3)

    told = quiet(
        readings, start_gravity=1.090, finish_gravity=0.992, finish_low=0.990, finish_high=0.994
    )

    # Closed form: 4 + ln(0.098/0.001 - 1)/0.55 = 12.32 days.
    assert told.day == pytest.approx(12.32, abs=0.5)
    assert told.low_day < told.day < told.high_day
    assert told.low_day <= 12.32 <= told.high_day


def test_a_longer_look_narrows_the_band():
    short = quiet(read_off(DAMSON, [1.5, 2.0], 3), start_gravity=1.090, finish_gravity=0.992)
    long = quiet(read_off(DAMSON, [1.5, 3.8], 3), start_gravity=1.090, finish_gravity=0.992)

    assert long.high_day - long.low_day < short.high_day - short.low_day


def test_a_tail_that_drags_moves_the_late_end():
    steep = read_off(DAMSON, [1.5, 3, 4])
    dragging = [
        Reading(
            day, tail_gravity(day=day - 5, finish_gravity=0.992, amplitude=0.030, rate_per_day=0.15)
        )
        for day in (6, 9, 12)
    ]

    told = quiet([*steep, *dragging], start_gravity=1.090, finish_gravity=0.992)

    # Closed form of the tail: 5 + ln(30)/0.15 = 27.7 days.
    assert told.high_day >= 27.6


def test_readings_that_hardly_fall_leave_the_late_end_open():
    readings = [Reading(2.0, 1.0400), Reading(5.0, 1.0390)]

    told = quiet(readings, start_gravity=1.090, finish_gravity=0.992)

    assert told.high_day is None


def test_days_become_dates_from_the_pitching():
    told = Quiet(12.3, 11.0, None, DAMSON)

    assert told.dates(dt.date(2026, 9, 13)) == (dt.date(2026, 9, 26), dt.date(2026, 9, 24), None)


@pytest.mark.parametrize(
    "readings",
    [[], [Reading(3.0, 1.040)], [Reading(3.0, 1.040), Reading(9.0, 0.992)]],
)
def test_too_few_readings_fix_no_curve(readings):
    with pytest.raises(TooFewReadings):
        fit(readings, start_gravity=1.090, finish_gravity=0.992)


def test_rising_readings_fix_no_curve():
    with pytest.raises(TooFewReadings, match="do not fall"):
        fit([Reading(2, 1.030), Reading(4, 1.050)], start_gravity=1.090, finish_gravity=0.992)


def test_a_finish_at_the_start_is_refused():
    with pytest.raises(ValueError, match=r"more than 0\.002 apart"):
        fit([], start_gravity=1.000, finish_gravity=0.999)


def test_closed_forms():
    logistic = logistic_gravity(
        day=10, start_gravity=1.090, finish_gravity=0.992, rate_per_day=0.55, middle_day=4
    )
    tail = tail_gravity(day=6, finish_gravity=0.992, amplitude=0.040, rate_per_day=0.18)

    assert logistic == pytest.approx(0.9955, abs=0.0001)
    assert tail == pytest.approx(1.0056, abs=0.0001)
    assert tail_quiet_day(amplitude=0.040, rate_per_day=0.18) == pytest.approx(20.49, abs=0.02)


def told_of(*pairs, expected=0.993):
    return stillness([Reading(day, gravity) for day, gravity in pairs], expected_finish=expected)


@pytest.mark.parametrize(
    ("pairs", "state"),
    [
        ([], "moving"),
        ([(119, 0.995)], "moving"),
        ([(20, 1.020), (23, 1.004)], "moving"),
        ([(119, 0.995), (121, 0.995)], "still once"),
        ([(119, 0.995), (122, 0.995)], "still twice"),
        ([(119, 0.996), (122, 0.995)], "still twice"),
        ([(119, 0.997), (122, 0.995)], "moving"),
        ([(116, 0.997), (119, 0.996), (122, 0.995)], "still twice"),
        ([(116, 0.995), (119, 0.995), (122, 0.998)], "moving"),
    ],
)
def test_states_by_equal_readings_three_days_apart(pairs, state):
    assert told_of(*pairs).state == state


def test_a_slow_steady_fall_is_not_still():
    # Each step is within 0.001, the whole is not.
    told = told_of((1, 0.999), (2, 0.998), (3, 0.997), (4, 0.996))

    assert (told.state, told.days_still) == ("still once", 1)


def test_still_at_the_expected_finish_is_finished():
    told = told_of((119, 0.995), (122, 0.995))

    assert (told.finished, told.stuck, told.days_still) == (True, False, 3)


@pytest.mark.parametrize(("gravity", "finished"), [(0.997, True), (0.998, False)])
def test_the_line_is_four_points_above_the_expected_finish(gravity, finished):
    told = told_of((119, gravity), (122, gravity))

    assert (told.finished, told.stuck) == (finished, not finished)


def test_still_but_high_is_stuck_and_says_so():
    told = told_of((40, 1.020), (44, 1.020))

    assert told.stuck
    assert told.reason == "stuck: 1.020 stands above the expected 0.997"


def test_without_an_expected_finish_neither_is_said():
    told = told_of((40, 1.000), (44, 1.000), expected=None)

    assert (told.state, told.finished, told.stuck) == ("still twice", False, False)
    assert "not known" in told.reason


def test_readings_may_come_in_any_order():
    assert told_of((122, 0.995), (119, 0.995), (20, 1.020)).state == "still twice"
