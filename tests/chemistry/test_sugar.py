import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.chemistry.sugar import (
    brix_of_sugar,
    displaced_l_per_kg,
    dissolved_volume_l,
    gravity_of_sugar,
    hexose_of_sucrose,
    sugar_of_brix_g_per_l,
    sugar_of_gravity_g_per_l,
    sugar_to_reach_kg,
    sugar_to_stir_in_kg,
    sweeten,
    sweeten_by,
    syrup,
    water_to_thin_l,
)

GRAVITIES = st.floats(1.001, 1.19)


@given(GRAVITIES)
def test_gravity_to_grams_per_litre_and_back(gravity):
    sugar = sugar_of_gravity_g_per_l(gravity=gravity)

    assert gravity_of_sugar(sugar_g_per_l=sugar) == pytest.approx(gravity, abs=1e-9)


@given(st.floats(0, 84))
def test_brix_to_grams_per_litre_and_back(brix):
    sugar = sugar_of_brix_g_per_l(brix=brix)

    assert brix_of_sugar(sugar_g_per_l=sugar) == pytest.approx(brix, abs=1e-7)


@given(st.floats(0.1, 100), GRAVITIES, GRAVITIES)
def test_stirring_in_the_sugar_reaches_the_gravity_and_loses_no_mass(volume_l, one, other):
    gravity, target = sorted((one, other))

    added_kg = sugar_to_stir_in_kg(volume_l=volume_l, gravity=gravity, target_gravity=target)

    held_kg = volume_l * sugar_of_gravity_g_per_l(gravity=gravity) / 1000
    mass_kg = volume_l * gravity * 0.99820312 + added_kg
    share = (held_kg + added_kg) / mass_kg
    assert 100 * share == pytest.approx(
        brix_of_sugar(sugar_g_per_l=sugar_of_gravity_g_per_l(gravity=target)), abs=1e-5
    )


@given(st.floats(1, 100), GRAVITIES, GRAVITIES)
def test_thinning_undoes_what_stirring_in_did_to_the_strength(volume_l, one, other):
    target, gravity = sorted((one, other))

    water_l = water_to_thin_l(volume_l=volume_l, gravity=gravity, target_gravity=target)

    sugar_kg = volume_l * sugar_of_gravity_g_per_l(gravity=gravity) / 1000
    mass_kg = volume_l * gravity * 0.99820312 + water_l * 0.99820312
    brix = 100 * sugar_kg / mass_kg
    assert gravity_of_sugar(sugar_g_per_l=sugar_of_brix_g_per_l(brix=brix)) == pytest.approx(
        target, abs=1e-7
    )


def test_a_full_bucket_needs_more_sugar_than_one_still_to_be_filled():
    level = sugar_to_reach_kg(volume_l=18.0, gravity=1.0826, target_gravity=1.090)
    full = sugar_to_stir_in_kg(volume_l=18.0, gravity=1.0826, target_gravity=1.090)

    assert level == pytest.approx(0.3504, abs=0.0005)
    assert full == pytest.approx(0.4103, abs=0.0005)


def test_a_kilogram_made_up_to_a_gallon_is_not_one_added_to_a_gallon():
    # Worked by a separate program: 1.084 made up, 1.074 added.
    made_up = gravity_of_sugar(sugar_g_per_l=1000 / 4.54609)
    added = syrup(water_l=4.54609, sugar_kg=1.0).gravity

    assert made_up == pytest.approx(1.0844, abs=0.0005)
    assert added == pytest.approx(1.0745, abs=0.0005)


@pytest.mark.parametrize(
    ("sugar_g_per_l", "low", "high"), [(50, 0.614, 0.619), (250, 0.616, 0.620), (880, 0.62, 0.63)]
)
def test_dissolved_sugar_takes_about_six_tenths_of_a_litre(sugar_g_per_l, low, high):
    # ICUMSA SPS-4: 0.616 in dilute must to 0.63 in syrup.
    assert low <= displaced_l_per_kg(sugar_g_per_l=sugar_g_per_l) <= high


def test_syrup_of_two_to_one_by_mass():
    two_to_one = syrup(water_l=1.0, sugar_kg=2.0)

    assert two_to_one.brix == pytest.approx(66.7, abs=0.1)
    assert two_to_one.volume_l == pytest.approx(2.26, abs=0.01)
    assert dissolved_volume_l(water_l=1.0, sugar_kg=2.0) == two_to_one.volume_l


def test_sweetening_a_finished_wine():
    added = sweeten(volume_l=16.5, gravity=0.994, target_gravity=1.008)

    assert added.sugar_kg == pytest.approx(0.613, rel=0.01)
    assert added.sugar_g_per_l == pytest.approx(36.3, rel=0.01)
    assert added.volume_l == pytest.approx(16.88, abs=0.005)


def test_sweetening_by_grams_per_litre_agrees_with_sweetening_by_gravity():
    by_gravity = sweeten(volume_l=16.5, gravity=0.994, target_gravity=1.008)
    by_grams = sweeten_by(volume_l=16.5, sugar_g_per_l=by_gravity.sugar_g_per_l)

    assert by_grams.sugar_kg == pytest.approx(by_gravity.sugar_kg, rel=1e-9)
    assert by_grams.volume_l == pytest.approx(by_gravity.volume_l, rel=1e-9)


def test_split_sugar_weighs_a_twentieth_more():
    assert hexose_of_sucrose(sucrose_g_per_l=342.30) == pytest.approx(360.31, abs=0.02)


def test_sweetening_downwards_is_refused():
    with pytest.raises(ValueError, match=r"wanted gravity must lie within 1\.01 to 1\.1"):
        sweeten(volume_l=5.0, gravity=1.010, target_gravity=1.000)
