from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.phenology import (
    DatedWindow,
    Window,
    WindowState,
    common_day,
    date_of,
    half_width_days,
    opening_interval,
    windows_touching,
)

MEADOWSWEET = Window(170, 195, 230)
PARSNIP = Window(305, 350, 75, wraps=True)

years = st.integers(1904, 2199)
numbers = st.integers(1, 365)
days = st.dates(date(1904, 1, 1), date(2199, 12, 31))


@st.composite
def windows(draw):
    first, length = draw(numbers), draw(st.integers(0, 363))
    peak = draw(st.integers(0, length))
    return Window(first, (first + peak - 1) % 365 + 1, (first + length - 1) % 365 + 1)


@given(year=years, number=numbers)
def test_a_day_number_comes_back_from_its_date_in_every_year(year, number):
    assert common_day(date_of(year, number)) == number


@given(year=years, number=numbers)
def test_a_day_number_means_the_same_month_and_day_in_every_year(year, number):
    found = date_of(year, number)

    assert (found.month, found.day) == (date_of(2001, number).month, date_of(2001, number).day)
    assert found.year == year


def test_the_first_of_march_is_day_60_with_and_without_29_february():
    assert date_of(2026, 60) == date(2026, 3, 1)
    assert date_of(2028, 60) == date(2028, 3, 1)
    assert date_of(2100, 60) == date(2100, 3, 1)
    assert common_day(date(2028, 2, 29)) == 59


def test_own_first_picks_of_five_years_have_their_common_year_numbers():
    assert common_day(date(2021, 6, 28)) == 179
    assert common_day(date(2024, 6, 16)) == 167


def test_numbers_outside_the_year_fall_into_the_years_beside():
    assert date_of(2026, 0) == date(2025, 12, 31)
    assert date_of(2026, 366) == date(2027, 1, 1)


def test_a_window_over_new_year_ends_in_the_year_after():
    assert PARSNIP.in_year(2026) == DatedWindow(
        date(2026, 11, 1), date(2026, 12, 16), date(2027, 3, 16)
    )
    assert PARSNIP.length_days == 136


@pytest.mark.parametrize(
    ("days_of_year", "message"),
    [
        ((0, 10, 20), "first day must lie between 1 and 365, not 0"),
        ((10, 20, 366), "last day must lie between 1 and 365, not 366"),
        ((100, 99, 120), r"peak \(day 99\) must lie in the window"),
        ((305, 200, 75), r"peak \(day 200\) must lie in the window"),
        ((100, 110, 120, True), "does not run over New Year"),
        ((305, 350, 75, False), "does run over New Year"),
    ],
)
def test_a_window_that_cannot_be_is_refused(days_of_year, message):
    with pytest.raises(ValueError, match=message):
        Window(*days_of_year)


@pytest.mark.parametrize(
    ("day", "state"),
    [
        (date(2026, 6, 11), WindowState.NOT_YET),
        (date(2026, 6, 12), WindowState.SHOWING),
        (date(2026, 6, 18), WindowState.SHOWING),
        (date(2026, 6, 19), WindowState.OPEN),
        (date(2026, 7, 14), WindowState.OPEN),
        (date(2026, 8, 9), WindowState.OPEN),
        (date(2026, 8, 10), WindowState.GOING_OVER),
        (date(2026, 8, 18), WindowState.GOING_OVER),
        (date(2026, 8, 19), WindowState.OVER),
        (date(2026, 11, 1), WindowState.OVER),
        (date(2027, 2, 1), WindowState.NOT_YET),
    ],
)
def test_meadowsweet_goes_through_its_states(day, state):
    assert MEADOWSWEET.state_on(day) == state


@pytest.mark.parametrize(
    ("day", "state"),
    [
        (date(2026, 1, 20), WindowState.OPEN),
        (date(2026, 3, 16), WindowState.GOING_OVER),
        (date(2026, 3, 17), WindowState.OVER),
        (date(2026, 7, 19), WindowState.NOT_YET),
        (date(2026, 10, 25), WindowState.SHOWING),
        (date(2026, 12, 31), WindowState.OPEN),
    ],
)
def test_parsnips_go_through_their_states_across_new_year(day, state):
    assert PARSNIP.state_on(day) == state


def test_29_february_is_neither_before_nor_after_its_neighbours():
    until_february, from_march = Window(40, 50, 59), Window(60, 70, 90)

    assert until_february.state_on(date(2028, 2, 29)) == WindowState.OVER
    assert from_march.state_on(date(2028, 2, 29)) == WindowState.SHOWING


def test_a_window_of_one_day_is_open_on_it():
    assert Window(100, 100, 100).state_on(date(2026, 4, 10)) == WindowState.OPEN


def test_a_window_closed_for_four_days_a_year_is_going_over_until_it_shows_again():
    long_window = Window(10, 100, 5)

    assert long_window.state_on(date(2026, 1, 5)) == WindowState.GOING_OVER
    assert long_window.state_on(date(2026, 1, 6)) == WindowState.SHOWING
    assert long_window.state_on(date(2026, 1, 10)) == WindowState.OPEN


@given(window=windows(), day=days)
def test_open_or_going_over_means_inside_on_every_day(window, day):
    inside = window.state_on(day) in (WindowState.OPEN, WindowState.GOING_OVER)
    counted_inside = day in window.nearest(day)

    assert inside == counted_inside
    assert inside == bool(window.touching(day, day))


@given(window=windows(), year=years)
def test_the_day_before_opening_shows_and_the_day_of_opening_does_not(window, year):
    dated = window.in_year(year)

    assert window.state_on(dated.first) not in (WindowState.SHOWING, WindowState.NOT_YET)
    assert window.state_on(dated.first - timedelta(days=1)) == WindowState.SHOWING


@given(window=windows(), shift=st.floats(-60, 60))
def test_a_shifted_window_keeps_its_length(window, shift):
    shifted = window.shifted(shift)

    assert shifted.length_days == window.length_days
    # Half a day of rounding, counted round the year.
    assert abs((shifted.first - window.first - shift + 182) % 365 - 182) <= 0.5


def test_a_shift_carries_a_window_over_new_year():
    shifted = Window(330, 345, 360).shifted(12.4)

    assert shifted == Window(342, 357, 7)
    assert shifted.wraps


def test_a_year_lists_the_window_that_began_the_year_before():
    grown = {"parsnip": PARSNIP, "meadowsweet": MEADOWSWEET}

    found = windows_touching(grown, start=date(2027, 1, 1), end=date(2027, 12, 31))

    assert [(key, dated.first) for key, dated in found] == [
        ("parsnip", date(2026, 11, 1)),
        ("meadowsweet", date(2027, 6, 19)),
        ("parsnip", date(2027, 11, 1)),
    ]


def test_a_week_lists_only_what_is_open_in_it():
    assert PARSNIP.touching(date(2027, 3, 17), date(2027, 10, 31)) == []
    assert len(PARSNIP.touching(date(2027, 3, 16), date(2027, 10, 31))) == 1
    with pytest.raises(ValueError, match="must not come before"):
        PARSNIP.touching(date(2027, 3, 17), date(2027, 3, 16))


def test_four_openings_in_five_lie_within_nine_days():
    interval = opening_interval(date(2026, 6, 19))

    assert half_width_days() == pytest.approx(8.97, abs=0.005)
    assert (interval.earliest, interval.latest) == (date(2026, 6, 10), date(2026, 6, 28))
    assert date(2026, 6, 28) in interval
    assert date(2026, 6, 29) not in interval


@pytest.mark.parametrize("spread", [-0.1, float("nan"), float("inf"), 366])
def test_a_spread_that_cannot_be_is_refused(spread):
    with pytest.raises(ValueError, match="between 0 and 365"):
        half_width_days(spread)
