"""How long a pick keeps, to the hour, through a change of the clocks and over months."""

import datetime as dt
from zoneinfo import ZoneInfo

import pytest

from planner.holding import last_day, until

LONDON = ZoneInfo("Europe/London")
FIGURES = {"room_days": "0.5", "fridge_days": "2-3", "freezer_months": "12"}


def at(year, month, day, hour, minute=0):
    return dt.datetime(year, month, day, hour, minute, tzinfo=LONDON)


@pytest.mark.parametrize(
    ("warmth", "ends"),
    [
        (18, at(2026, 6, 21, 2, 30)),
        (None, at(2026, 6, 21, 2, 30)),
        (5, at(2026, 6, 22, 14, 30)),
        (-18, at(2027, 6, 20, 14, 30)),
    ],
)
def test_each_place_has_its_own_clock(warmth, ends):
    assert until(picked=at(2026, 6, 20, 14, 30), warmth_c=warmth, **FIGURES) == ends


def test_twelve_hours_stay_twelve_when_the_clocks_go_back():
    # Sunday 25 Oct 2026, 02:00 BST: the clocks of Britain go back to 01:00.
    ends = until(picked=at(2026, 10, 24, 20), warmth_c=18, **FIGURES)

    assert (ends.hour, ends.date()) == (7, dt.date(2026, 10, 25))
    assert ends.astimezone(dt.UTC) - at(2026, 10, 24, 20).astimezone(dt.UTC) == dt.timedelta(
        hours=12
    )


def test_months_end_on_the_last_day_of_a_short_month():
    ends = until(picked=at(2026, 8, 31, 9), warmth_c=-18, **FIGURES | {"freezer_months": "6"})

    assert ends == at(2027, 2, 28, 9)


def test_unknown_figures_say_nothing():
    assert until(picked=at(2026, 6, 20, 9), warmth_c=5, **FIGURES | {"fridge_days": ""}) is None


def test_midnight_belongs_to_the_day_before():
    assert last_day(at(2026, 6, 21, 0)) == dt.date(2026, 6, 20)
