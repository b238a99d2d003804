"""Jars for a volume: by the worked example, and against every choice there is."""

from itertools import combinations

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.fit import fit

pytestmark = pytest.mark.unit

JARS = [4_750_000] * 6 + [3_000_000]


def test_three_jars_full_and_the_small_one_short_of_its_neck():
    # Worked example: 16.92 L in jars of 4.75 L and one of 3.0 L: 2.67 L in the last, top up 0.33 L.
    found = fit(JARS, 16_920_000)

    assert found.counts == ((4_750_000, 3), (3_000_000, 1))
    assert (found.in_last, found.top_up) == (2_670_000, 330_000)


def test_all_together_may_hold_too_little():
    assert fit([1_000_000] * 3, 3_000_001) is None
    assert fit([], 1) is None


def test_a_vessel_that_is_just_filled_needs_no_topping_up():
    assert fit([5, 3, 2], 5).counts == ((5, 1),)
    assert fit([3, 2, 2, 5], 7).counts == ((5, 1), (2, 1))


@pytest.mark.parametrize(("sizes", "volume"), [([1], 0), ([0], 1), ([1], -1)])
def test_what_is_no_volume_is_refused(sizes, volume):
    with pytest.raises(ValueError, match="above nothing"):
        fit(sizes, volume)


@given(sizes=st.lists(st.integers(1, 12), min_size=1, max_size=8), volume=st.integers(1, 60))
def test_no_other_choice_leaves_less_room_or_takes_fewer(sizes, volume):
    choices = [
        (sum(chosen) - volume, len(chosen))
        for n in range(1, len(sizes) + 1)
        for chosen in combinations(sizes, n)
        if sum(chosen) >= volume
    ]
    found = fit(sizes, volume)

    if not choices:
        assert found is None
        return
    assert (found.top_up, found.vessels) == min(choices)
    assert found.proved
    assert found.in_last > 0
    assert sum(size * count for size, count in found.counts) - found.top_up == volume
