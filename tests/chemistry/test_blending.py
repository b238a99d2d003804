import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.chemistry.blending import (
    Liquid,
    blend,
    mean_by_volume,
    pearson_ratio,
    spirit_to_reach_l,
)

LIQUIDS = st.builds(
    Liquid,
    volume_l=st.floats(0.1, 50),
    abv=st.floats(0, 40),
    extract_g_per_l=st.floats(0, 300),
)


@given(LIQUIDS, LIQUIDS)
def test_a_blend_loses_neither_mass_nor_alcohol_nor_extract(one, other):
    both = blend(one, other)

    assert both.mass_kg == pytest.approx(one.mass_kg + other.mass_kg, rel=1e-9)
    assert both.ethanol_kg == pytest.approx(one.ethanol_kg + other.ethanol_kg, rel=1e-9, abs=1e-12)
    assert both.extract_kg == pytest.approx(one.extract_kg + other.extract_kg, rel=1e-9, abs=1e-12)


@given(LIQUIDS, LIQUIDS)
def test_a_blend_is_as_strong_as_something_between_its_parts(one, other):
    both = blend(one, other)

    weak, strong = sorted((one.abv, other.abv))
    # Shrinking may lift the strength a little above the stronger part.
    assert weak - 0.1 <= both.abv <= strong + 0.5


def test_alcohol_and_water_shrink():
    both = blend(Liquid(1.0, abv=96.0), Liquid(1.0))

    # OIML R22: equal volumes of strong spirit and water lose 3 to 4 %.
    assert 1.92 < both.volume_l < 1.94
    assert both.abv > 48.0


@given(st.floats(1, 50), st.floats(5, 14), st.floats(15, 22))
def test_spirit_to_reach_a_strength_reaches_it(volume_l, abv, target):
    wine, spirit = Liquid(volume_l, abv, 20.0), Liquid(1.0, 40.0)

    needed = spirit_to_reach_l(wine=wine, spirit=spirit, target_abv=target)

    assert blend(wine, Liquid(needed, 40.0)).abv == pytest.approx(target, abs=1e-6)


def test_the_pearson_square_is_a_little_low_for_strength():
    # Worked by a separate program: 17.273 by the square, 17.324 by mass.
    ratio = pearson_ratio(first=12.0, second=70.0, target=17.2727)

    exact = blend(Liquid(10.0, 12.0), Liquid(1.0, 70.0))
    assert ratio == pytest.approx(10.0, abs=0.001)
    assert exact.abv == pytest.approx(17.324, abs=0.001)


def test_acid_of_a_blend_is_the_mean_by_volume():
    assert mean_by_volume(volumes_l=(3.0, 1.0), values=(6.0, 10.0)) == 7.0


def test_a_target_outside_both_parts_is_refused():
    with pytest.raises(ValueError, match="wanted value must lie within 6 to 9"):
        pearson_ratio(first=6.0, second=9.0, target=10.0)


def test_a_blend_of_nothing_is_refused():
    with pytest.raises(ValueError, match="at least one part"):
        blend()
