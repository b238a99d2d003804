import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.chemistry.gravity import (
    REFERENCE_C,
    apparent_brix_of_gravity,
    apparent_gravity_of_brix,
    brix_of_gravity,
    gravity_at_reference,
    gravity_of_apparent_brix,
    gravity_of_brix,
    gravity_of_oechsle,
    oechsle_of_gravity,
    weight_in_air_kg_per_m3,
)


@given(st.floats(0, 85), st.floats(0, 40))
def test_brix_to_gravity_and_back(brix, reference_c):
    gravity = gravity_of_brix(brix=brix, reference_c=reference_c)

    if gravity <= 1.4:
        back = brix_of_gravity(gravity=max(1.0, gravity), reference_c=reference_c)
        assert back == pytest.approx(brix, abs=1e-6)


@given(st.floats(-5, 60))
def test_apparent_extract_to_gravity_and_back(apparent_brix):
    gravity = gravity_of_apparent_brix(apparent_brix=apparent_brix)

    assert apparent_brix_of_gravity(gravity=gravity) == pytest.approx(apparent_brix, abs=1e-7)


def test_one_solution_reads_differently_against_another_water():
    at_20 = gravity_of_brix(brix=25, reference_c=REFERENCE_C["20/20"])
    at_60_f = gravity_of_brix(brix=25, reference_c=REFERENCE_C["60/60 F"])

    # Worked by a separate program: 1.10558 and 1.10606.
    assert at_20 == pytest.approx(1.10558, abs=0.00001)
    assert at_60_f == pytest.approx(1.10606, abs=0.00001)


def test_changing_the_reference_and_back_gives_the_same_gravity():
    moved = gravity_at_reference(gravity=1.090, from_c=20.0, to_c=15.0)

    assert moved > 1.090
    assert gravity_at_reference(gravity=moved, from_c=15.0, to_c=20.0) == pytest.approx(1.090)


def test_oechsle_is_gravity_points():
    assert oechsle_of_gravity(gravity=1.0828) == pytest.approx(82.8)
    assert gravity_of_oechsle(oechsle=82.8) == pytest.approx(1.0828)


def test_a_must_below_water_is_refused_with_the_range():
    with pytest.raises(ValueError, match=r"gravity must lie within 1 to 1\.4"):
        brix_of_gravity(gravity=0.998)


# Fit to NBS C440 printed in a reference encyclopaedia article, apparent gravity 1.0000 to 1.1787.
@pytest.mark.parametrize("brix", [2.0, 5.0, 10.0, 15.0, 20.0, 25.0, 30.0, 35.0])
def test_apparent_gravity_agrees_with_the_printed_fit(brix):
    s = apparent_gravity_of_brix(brix=brix)

    fitted = 182.46007 * s**3 - 775.68212 * s**2 + 1262.7794 * s - 669.56218

    assert fitted == pytest.approx(brix, abs=0.02)


def test_weight_in_air_is_a_little_less_than_density():
    # Water at 20 degC in air with brass weights: 998.20 - 1.20 + 0.14, common metrology.
    assert weight_in_air_kg_per_m3(brix=0) == pytest.approx(997.15, abs=0.01)
