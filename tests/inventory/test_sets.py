"""Bottles, closures and cages make sets; the scarcest part decides."""

import pytest

from inventory.sets import Bottle, Change, Closure, Missing, Usable, by_month, usable

pytestmark = pytest.mark.unit

LARGE, MIDDLE, SMALL = 1, 2, 3
STOPPER, CROWN = 11, 12
GLASS = [
    Bottle(LARGE, "fizz", clean=6, dirty=2),
    Bottle(MIDDLE, "crown_26", clean=9),
    Bottle(SMALL, "crown_26", clean=12),
]
PARTS = [
    Closure(STOPPER, frozenset({"fizz"}), 10, needs_cage=True),
    Closure(CROWN, frozenset({"crown_26"}), 40),
]


def test_seven_cages_leave_seven_of_eight_bottles():
    answer = usable(GLASS, PARTS, cages=7)

    assert answer[LARGE] == Usable(LARGE, now=6, washed=7, missing=(Missing("cage", 1),))


def test_four_cages_for_seven_bottles_lack_three():
    answer = usable([Bottle(LARGE, "fizz", clean=7)], PARTS, cages=4)

    assert answer[LARGE] == Usable(LARGE, 4, 4, (Missing("cage", 3),))


def test_closures_left_over_ask_for_bottles():
    answer = usable(GLASS, PARTS, cages=7)

    assert (answer[MIDDLE].now, answer[MIDDLE].missing) == (9, (Missing("bottle", 31),))


def test_a_bottle_that_nothing_fits_has_no_set():
    answer = usable([Bottle(LARGE, "swing", clean=5)], PARTS, cages=7)

    assert answer[LARGE] == Usable(LARGE, 0, 0, (Missing("closure that fits", 5),))


def test_closures_without_a_cage_are_counted_beside_those_with_one():
    plain = Closure(13, frozenset({"fizz"}), 2)

    answer = usable([Bottle(LARGE, "fizz", clean=9)], [*PARTS, plain], cages=5)

    assert answer[LARGE] == Usable(LARGE, 7, 7, (Missing("cage", 2),))


def test_too_few_closures_and_too_few_cages_are_both_named():
    stopper = Closure(STOPPER, frozenset({"fizz"}), 5, needs_cage=True)

    answer = usable([Bottle(LARGE, "fizz", clean=9)], [stopper], cages=3)

    assert answer[LARGE].missing == (Missing("closure", 4), Missing("cage", 2))


def test_an_empty_house_has_no_sets():
    assert usable([], [], cages=0) == {}


def test_a_bottling_takes_its_parts_from_its_month_on():
    taken = [
        Change(1, ("bottle", LARGE), -4),
        Change(1, ("closure", STOPPER), -4),
        Change(1, ("cage", 0), -4),
    ]

    months = by_month(GLASS, PARTS, cages=7, changes=taken, months=3)

    assert [month[LARGE].now for month in months] == [6, 2, 2]


def test_bottles_drunk_empty_come_back():
    months = by_month(GLASS, PARTS, cages=20, changes=[Change(2, ("bottle", LARGE), 3)], months=3)

    assert [month[LARGE].now for month in months] == [6, 6, 9]


def test_more_wanted_than_there_is_leaves_none_and_is_made_good_first():
    changes = [Change(0, ("cage", 0), -9), Change(1, ("cage", 0), 4)]

    months = by_month(GLASS, PARTS, cages=7, changes=changes, months=2)

    assert [month[LARGE].now for month in months] == [0, 2]


def test_a_change_beyond_the_last_month_or_of_an_unknown_part_is_left_out():
    changes = [Change(5, ("cage", 0), -7), Change(0, ("closure", 99), -1)]

    months = by_month(GLASS, PARTS, cages=7, changes=changes, months=1)

    assert months[0][LARGE].washed == 7
