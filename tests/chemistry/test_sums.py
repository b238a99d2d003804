import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.chemistry.figure import Rule, measured, trusted, unknown
from planner.chemistry.sums import carried, total

RULE = Rule("sum", "arithmetic", "always")


def test_known_parts_add_up_without_inventing_a_range():
    told = total(
        [("fruit", 2.0, measured(9.0, "g")), ("bag", 1.0, trusted(100.0, "g", source="typed in"))],
        unit="g",
        rule=RULE,
    )

    assert (told.value, told.low, told.high) == (118.0, None, None)
    assert told.source == "fruit: measured; bag: taken on trust"


def test_one_unknown_part_leaves_the_sum_unknown_but_bounded_below():
    told = total(
        [("fruit", 2.0, unknown("g")), ("bag", 1.0, measured(100.0, "g"))], unit="g", rule=RULE
    )

    assert told.known == "not known"
    assert (told.value, told.low, told.high) == (None, 100.0, None)


def test_an_unknown_part_with_a_lid_bounds_the_sum_above():
    told = total(
        [("fruit", 2.0, unknown("g", high=10.0)), ("bag", 1.0, measured(100.0, "g"))],
        unit="g",
        rule=RULE,
    )

    assert (told.low, told.high) == (100.0, 120.0)


def test_an_unknown_part_of_no_weight_does_not_matter():
    told = total(
        [("fruit", 0.0, unknown("g")), ("bag", 1.0, measured(100.0, "g"))], unit="g", rule=RULE
    )

    assert told.value == 100.0


@given(st.floats(0, 10), st.floats(0, 5), st.floats(0.1, 5))
def test_ranges_stay_round_their_value(value, spread, weight):
    part = trusted(value, "g", source="table", low=value - spread, high=value + spread)

    told = total([("a", weight, part), ("b", 1.0, part)], unit="g", rule=RULE)

    assert told.low <= told.value <= told.high
    assert told.high - told.low == pytest.approx(2 * spread * (weight + 1), abs=1e-9)


def test_a_falling_function_turns_the_range_over():
    part = trusted(2.0, "g", source="table", low=1.0, high=4.0)

    told = carried(part, lambda x: 8 / x, unit="L", rule=RULE)

    assert (told.low, told.value, told.high) == (2.0, 4.0, 8.0)
