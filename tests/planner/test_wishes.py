"""Every row of the judgement on wishes."""

import pytest

from planner.wishes import GO, LOOK_AGAIN, STOP, Wishes, judge

pytestmark = pytest.mark.unit

# sweet, closing, steadied, sugar left from and to; the gravest verdict.
ROWS = [
    ("", "still", False, 0, 0, GO),
    ("dry", "still", False, 0, 1, GO),
    ("dry", "fizz", False, 0, 1, GO),
    ("medium", "fizz", False, 0, 1, STOP),
    ("sweet", "fizz", False, 0, 0, STOP),
    ("sweet", "still", False, 0, 0, STOP),
    ("medium dry", "still", False, 0, 0, STOP),
    ("medium", "still", True, 15, 30, GO),
    ("medium", "still", True, 0, 1, LOOK_AGAIN),
    ("medium", "open", False, 15, 30, GO),
    ("dry", "fizz", True, 0, 0, STOP),
    ("", "still", False, 0, 4, LOOK_AGAIN),
    ("", "still", False, 0, 3.9, GO),
    ("", "fizz", False, 0, 30, LOOK_AGAIN),
    ("", "open", False, 0, 30, GO),
    ("dry", "still", True, 20, 40, LOOK_AGAIN),
    ("medium", "still", True, None, None, GO),
    ("sweet", "fizz", False, None, None, STOP),
]


@pytest.mark.parametrize(("sweet", "closing", "steadied", "low", "high", "level"), ROWS)
def test_wishes_are_judged_by_the_table(sweet, closing, steadied, low, high, level):
    found = judge(Wishes(sweet, closing, steadied), left_low_g_per_l=low, left_high_g_per_l=high)

    assert (found[0].level if found else GO) == level


def test_sweet_and_live_and_shut_names_every_way_out():
    found = judge(Wishes("sweet", "fizz"), left_low_g_per_l=0, left_high_g_per_l=0)

    ways = " ".join(found[0].ways_out)
    assert all(word in ways for word in ("steady", "heat", "cold", "dry", "glass"))


def test_the_gravest_stands_first_and_none_is_left_out():
    found = judge(Wishes("sweet", "fizz", True), left_low_g_per_l=0, left_high_g_per_l=1)

    assert [verdict.level for verdict in found] == [STOP, LOOK_AGAIN]
