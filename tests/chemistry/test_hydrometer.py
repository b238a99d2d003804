import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.chemistry.hydrometer import (
    must_gravity,
    shortcut_gravity,
    wine_gravity,
    wine_reading,
    working_gravity,
)


# Worked by a separate program for a hydrometer of 20 degC.
@pytest.mark.parametrize(
    ("reading", "sample_c", "gravity"),
    [(1.078, 34, 1.0826), (1.074, 41, 1.0813), (1.100, 10, 1.0975)],
)
def test_a_must_read_hot_or_cold_is_brought_to_20_degrees(reading, sample_c, gravity):
    corrected = must_gravity(reading=reading, sample_c=sample_c)

    assert corrected == pytest.approx(gravity, abs=0.0003)


@given(st.floats(1.01, 1.15), st.floats(15, 25))
def test_a_reading_at_the_instruments_own_temperature_stands(reading, calibration_c):
    corrected = must_gravity(
        reading=reading,
        sample_c=calibration_c,
        calibration_c=calibration_c,
        reference_c=calibration_c,
    )

    # The sugar table's own water and Tanaka's differ by under 0.006 kg/m3.
    assert corrected == pytest.approx(reading, abs=0.00001)


@given(st.floats(1.02, 1.15), st.floats(5, 55))
def test_the_warmer_the_must_the_more_is_added(reading, sample_c):
    cool = must_gravity(reading=reading, sample_c=sample_c)
    warm = must_gravity(reading=reading, sample_c=sample_c + 1)

    assert warm > cool


@given(st.floats(0.985, 1.05), st.floats(1, 39), st.floats(0, 20))
def test_wine_to_reading_and_back(gravity, sample_c, abv):
    reading = wine_reading(gravity=gravity, sample_c=sample_c, abv=abv)

    back = wine_gravity(reading=reading, sample_c=sample_c, abv=abv)
    assert back == pytest.approx(gravity, abs=1e-9)


def test_wine_needs_a_larger_correction_than_water_and_a_smaller_one_than_must():
    # Worked by a separate program: 30 to 20 degC, water 0.0023, dry wine 0.0028, must 0.0032.
    water = must_gravity(reading=1.000, sample_c=30) - 1.000
    wine = wine_gravity(reading=0.9813, sample_c=30, abv=12) - 0.9813
    must = must_gravity(reading=1.090, sample_c=30) - 1.090

    assert water == pytest.approx(0.0023, abs=0.0001)
    assert wine == pytest.approx(0.0028, abs=0.0001)
    assert must == pytest.approx(0.0032, abs=0.0001)


def test_in_mid_ferment_the_strength_follows_from_the_start():
    corrected = working_gravity(reading=0.998, sample_c=28, start_gravity=1.090)

    strong = wine_gravity(reading=0.998, sample_c=28, abv=12.1)
    assert corrected == pytest.approx(strong, abs=0.0001)


@pytest.mark.parametrize(
    ("reading", "sample_c", "error"), [(1.050, 10, 0.0003), (1.090, 10, 0.0008)]
)
def test_the_shortcut_is_out_by_a_known_amount(reading, sample_c, error):
    full = must_gravity(reading=reading, sample_c=sample_c)

    short = shortcut_gravity(reading=reading, sample_c=sample_c)
    assert abs(short - full) == pytest.approx(error, abs=0.0001)


def test_a_must_that_reads_below_water_is_refused():
    with pytest.raises(ValueError, match="that is below water, so it holds alcohol"):
        must_gravity(reading=0.990, sample_c=20)


@pytest.mark.parametrize("sample_c", [-1, 61])
def test_a_must_colder_or_hotter_than_the_table_is_refused(sample_c):
    with pytest.raises(ValueError, match="sample temperature must lie within 0 to 60 degC"):
        must_gravity(reading=1.080, sample_c=sample_c)
