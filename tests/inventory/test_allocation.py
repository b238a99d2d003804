"""Every answer of the filling is held against trying all of them."""

from itertools import product

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inventory.allocation import Aim, FillPlan, Lack, Size, fill, lacks

pytestmark = pytest.mark.unit

ML = 1_000
GLASS = [
    Size("750", 750 * ML, 8, ("stopper", "cage")),
    Size("500", 500 * ML, 9, ("crown cap",)),
    Size("330", 330 * ML, 12, ("crown cap",)),
]
PARTS = {"stopper": 10, "cage": 7, "crown cap": 40}


def filled(volume_ml: int, *, sizes=GLASS, pools=PARTS, **more) -> FillPlan:
    return fill(sizes, volume_ul=volume_ml * ML, pools=pools, **more)


def test_nothing_is_left_over_where_it_can_be():
    plan = filled(9_050)

    assert plan == FillPlan({"750": 7, "500": 1, "330": 10}, 0)


def test_the_fewest_bottles_with_a_little_left():
    plan = filled(9_050, aim=Aim.FEWEST, spare_ul=150 * ML)

    assert plan == FillPlan({"750": 6, "500": 9, "330": 0}, 50 * ML)
    assert plan.bottles == 15


def test_seven_six_and_two_is_as_few_and_leaves_more():
    other = {"750": 7, "500": 6, "330": 2}

    plan = filled(9_050, aim=Aim.FEWEST, spare_ul=150 * ML)

    assert sum(other.values()) == plan.bottles
    assert plan.left_ul < 140 * ML


def test_still_wine_of_a_bucket():
    sizes = [Size("750", 750 * ML, 40, ("cork",)), Size("375", 375 * ML, 10, ("cork",))]

    plan = filled(16_881, sizes=sizes, pools={"cork": 60})

    assert plan == FillPlan({"750": 22, "375": 1}, 6 * ML)


def test_the_biggest_first_is_taken_as_far_as_it_goes():
    assert filled(9_050, aim=Aim.BIGGEST).counts == {"750": 7, "500": 7, "330": 0}


def test_cages_hold_back_the_bottles_that_need_one():
    plan = filled(6_000, pools=PARTS | {"cage": 0})

    assert plan.counts["750"] == 0


def test_a_size_wished_for_gifts_is_set_aside_first():
    plan = filled(9_050, wished={"330": 12})

    assert plan.counts["330"] == 12


def test_the_last_bottle_may_be_short_where_its_size_allows():
    sizes = [Size("500", 500 * ML, 3, (), 350 * ML)]

    plan = filled(1_400, sizes=sizes, pools={})

    assert plan == FillPlan({"500": 2}, 0, ("500", 400 * ML))
    assert plan.bottles == 3


def test_what_is_too_little_for_a_short_bottle_is_left():
    sizes = [Size("500", 500 * ML, 3, (), 350 * ML)]

    assert filled(1_300, sizes=sizes, pools={}) == FillPlan({"500": 2}, 300 * ML)


def test_no_glass_at_all_leaves_everything():
    assert filled(4_500, sizes=[]) == FillPlan({}, 4_500 * ML)


def test_the_missing_part_is_named():
    sizes = [Size("750", 750 * ML, 8, ("stopper", "cage"))]
    pools = {"stopper": 10, "cage": 4}
    plan = filled(5_250, sizes=sizes, pools=pools)

    assert lacks(sizes, volume_ul=5_250 * ML, pools=pools, plan=plan) == [Lack("cage", 4, 7)]


def test_nothing_is_missing_when_less_than_a_bottle_is_left():
    plan = filled(9_050)

    assert lacks(GLASS, volume_ul=9_050 * ML, pools=PARTS, plan=plan) == []


@pytest.mark.parametrize(
    ("wished", "words"),
    [
        ({"750": 9}, "9 of 750 wished, 8 are there"),
        ({"750": 8}, "the wish takes 8 of cage, 7 are there"),
        ({"magnum": 1}, "no such size of bottle here: magnum"),
        ({"500": 9, "330": 12}, "the wish takes 8.46 L of 5 L"),
    ],
)
def test_a_wish_that_cannot_be_met_is_refused(wished, words):
    with pytest.raises(ValueError, match=words):
        filled(5_000, wished=wished)


@pytest.mark.parametrize("size", [("x", 0, 1), ("x", 500, -1), ("x", 500, 1, (), 600)])
def test_a_bottle_that_cannot_be_is_refused(size):
    with pytest.raises(ValueError, match="x: "):
        Size(*size)


HOUSES = st.lists(
    st.tuples(
        st.sampled_from([187, 200, 250, 330, 375, 500, 700, 750]),
        st.integers(0, 6),
        st.sets(st.sampled_from(["cork", "crown cap", "cage"])),
    ),
    min_size=1,
    max_size=4,
    unique_by=lambda row: row[0],
)
POOLS = st.fixed_dictionaries({part: st.integers(0, 12) for part in ("cork", "crown cap", "cage")})


def every_filling(sizes, pools, volume_ul):
    for counts in product(*(range(size.held + 1) for size in sizes)):
        used = {
            pool: sum(n for n, size in zip(counts, sizes, strict=True) if pool in size.takes)
            for pool in pools
        }
        left = volume_ul - sum(n * size.fill_ul for n, size in zip(counts, sizes, strict=True))
        if left >= 0 and all(used[pool] <= pools[pool] for pool in pools):
            yield left, sum(counts)


@settings(max_examples=250, deadline=200)
@given(rows=HOUSES, pools=POOLS, volume_ml=st.integers(0, 9_000))
def test_as_little_is_left_as_trying_every_filling_leaves(rows, pools, volume_ml):
    sizes = [Size(str(ml), ml * ML, held, tuple(sorted(takes))) for ml, held, takes in rows]

    plan = filled(volume_ml, sizes=sizes, pools=pools)

    best = min(every_filling(sizes, pools, volume_ml * ML))
    assert (plan.left_ul, plan.bottles) == best


@settings(max_examples=250, deadline=200)
@given(rows=HOUSES, pools=POOLS, volume_ml=st.integers(0, 9_000), spare_ml=st.integers(0, 800))
def test_as_few_bottles_as_trying_every_filling_takes(rows, pools, volume_ml, spare_ml):
    sizes = [Size(str(ml), ml * ML, held, tuple(sorted(takes))) for ml, held, takes in rows]

    plan = filled(volume_ml, sizes=sizes, pools=pools, aim=Aim.FEWEST, spare_ul=spare_ml * ML)

    every = list(every_filling(sizes, pools, volume_ml * ML))
    within = [(bottles, left) for left, bottles in every if left <= spare_ml * ML]
    best = min(within) if within else min(every)[::-1]
    assert (plan.bottles, plan.left_ul) == best
