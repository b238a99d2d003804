import pytest
from hypothesis import assume, given
from hypothesis import strategies as st

from planner.chemistry.alcohol import (
    abv_by_method,
    alcohol_by_mass,
    balling_abv,
    ethanol_g_per_l,
    extract_abv,
    gravity_of_wine,
    high_gravity_abv,
    potential_abv,
    strength,
    thumb_abv,
)
from planner.chemistry.gravity import apparent_brix_of_gravity


# Worked by a separate program: extract method, Balling, x 131.25 and 76.08, printed to 0.01.
@pytest.mark.parametrize(
    ("start", "finish", "extract", "balling", "thumb", "high"),
    [
        (1.045, 1.000, 5.88, 5.96, 5.91, 5.91),
        (1.060, 1.000, 7.89, 8.01, 7.88, 8.04),
        (1.080, 0.992, 11.71, 11.84, 11.55, 12.04),
        (1.090, 1.010, 10.66, 10.83, 10.50, 11.30),
        (1.100, 0.995, 14.11, 14.27, 13.78, 14.83),
        (1.110, 1.000, 14.84, 15.03, 14.44, 15.85),
        (1.130, 1.030, 13.56, 13.84, 13.12, 15.30),
        (1.140, 1.020, 16.38, 16.68, 15.75, 18.47),
    ],
)
def test_four_methods_against_the_printed_table(start, finish, extract, balling, thumb, high):
    pair = {"start_gravity": start, "finish_gravity": finish}

    assert extract_abv(**pair) == pytest.approx(extract, abs=0.006)
    assert balling_abv(**pair) == pytest.approx(balling, abs=0.006)
    assert thumb_abv(**pair) == pytest.approx(thumb, abs=0.006)
    assert high_gravity_abv(**pair) == pytest.approx(high, abs=0.006)


def test_strength_is_a_range_that_holds_the_other_methods():
    told = strength(start_gravity=1.080, finish_gravity=0.995)

    assert told.value == pytest.approx(11.3, abs=0.05)
    assert told.low <= 11.156 <= told.value <= 11.440 <= told.high
    assert told.rule == "extract method"


def test_each_method_is_named_beside_its_strength():
    names = [told.rule for told in abv_by_method(start_gravity=1.080, finish_gravity=0.995)]

    assert names == ["extract method", "Balling", "x 131.25", "76.08"]


@given(st.floats(1.02, 1.19), st.floats(0, 0.999))
def test_a_lower_finish_is_always_a_stronger_wine(start, share):
    finish = start - share * (start - 1.0)

    drier = extract_abv(start_gravity=start, finish_gravity=finish - 0.001)
    sweeter = extract_abv(start_gravity=start, finish_gravity=finish)

    assert drier > sweeter


@given(st.floats(1.0, 1.2))
def test_nothing_fermented_is_no_alcohol(gravity):
    assert extract_abv(start_gravity=gravity, finish_gravity=gravity) == pytest.approx(0, abs=1e-6)


@given(st.floats(1.03, 1.19), st.floats(0.05, 1.0))
def test_extract_and_gravity_methods_are_one_method(start, share):
    finish = start - share * (start - 1.0)
    abv = extract_abv(start_gravity=start, finish_gravity=finish)
    assume(abv > 0.5)

    # The form for beer takes extracts in degrees Plato instead of gravities.
    mass = alcohol_by_mass(
        original_brix=apparent_brix_of_gravity(gravity=start),
        apparent_brix=apparent_brix_of_gravity(gravity=finish),
    )
    assert mass * finish * 998.20312 / 789.23912 == pytest.approx(abv, rel=1e-6)


def test_wine_of_water_and_alcohol_alone_is_as_heavy_as_the_alcohol_table_says():
    # OIML R22: 12 % vol is 982.355 kg/m3, water 998.201.
    assert gravity_of_wine(extract_g_per_l=0, abv=12) == pytest.approx(982.355 / 998.20123)


@pytest.mark.parametrize(("per_percent", "abv"), [(16.83, 11.884), (17.0, 11.765), (18.0, 11.111)])
def test_potential_strength_names_its_factor(per_percent, abv):
    assert potential_abv(hexose_g_per_l=200, g_per_l_per_percent=per_percent) == pytest.approx(
        abv, abs=0.001
    )


def test_ethanol_in_a_litre():
    assert ethanol_g_per_l(abv=12) == pytest.approx(94.71, abs=0.01)


def test_a_finish_above_its_start_is_refused():
    with pytest.raises(ValueError, match=r"the finish 1\.0900 lies above the start 1\.0800"):
        extract_abv(start_gravity=1.080, finish_gravity=1.090)


def test_a_finish_no_wine_could_reach_is_refused():
    with pytest.raises(ValueError, match="below what this start can reach"):
        extract_abv(start_gravity=1.040, finish_gravity=0.980)


def test_a_reading_error_below_the_driest_finish_is_borne():
    # 1.070 ends at 0.9850 when bone dry; the instrument may show 0.001 less.
    assert extract_abv(start_gravity=1.070, finish_gravity=0.984) == pytest.approx(11.4, abs=0.1)
