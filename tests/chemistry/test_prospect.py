import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.chemistry.figure import measured, trusted, unknown
from planner.chemistry.prospect import prospect


@given(st.floats(1.02, 1.15))
def test_the_middle_lies_within_its_range(gravity):
    told = prospect(trusted(gravity, "SG", source="worked out"))

    assert told.finish.low <= told.finish.value <= told.finish.high
    assert told.strength.low <= told.strength.value <= told.strength.high


def test_a_must_of_1_090_that_ferments_right_out():
    told = prospect(trusted(1.090, "SG", source="worked out"))

    # Sugar alone ends at 0.981; 25 g/L of other extract lifts it by under 0.010.
    assert told.finish.low == pytest.approx(0.981, abs=0.0005)
    assert told.finish.high == pytest.approx(0.991, abs=0.001)
    # 234.8 g/L of sucrose is 247.2 of hexose: 13.73 % at 18 g/L a per cent, 14.6 at full yield.
    assert told.strength.low == pytest.approx(13.73, abs=0.02)
    assert told.strength.high == pytest.approx(14.64, abs=0.02)
    assert told.words == ("bone dry",)


def test_a_yeast_that_stops_early_leaves_it_sweet():
    told = prospect(trusted(1.090, "SG", source="worked out"), tolerance_abv=(12.0, 13.5))

    assert (told.strength.low, told.strength.high) == (12.0, 13.5)
    assert told.sugar_left.low < told.sugar_left.value < told.sugar_left.high
    assert told.words == ("medium",)


def test_a_wide_start_gives_more_than_one_word():
    start = trusted(1.085, "SG", source="table", low=1.080, high=1.095)

    told = prospect(start, tolerance_abv=(13.5, 13.5))

    assert told.words[0] == "bone dry"
    assert told.words[-1] == "medium"


def test_a_measured_start_holds_its_extract_already():
    worked = prospect(trusted(1.090, "SG", source="worked out"))
    read = prospect(measured(1.090, "SG"))

    assert read.strength.value < worked.strength.value


def test_an_unknown_start_stays_unknown():
    told = prospect(unknown("SG", low=1.070))

    assert {told.finish.known, told.strength.known, told.sugar_left.known} == {"not known"}
    assert told.words == ()


def test_a_start_beyond_the_rule_is_refused():
    with pytest.raises(ValueError, match=r"start gravity must lie within 1 to 1\.2"):
        prospect(measured(1.25, "SG"))
