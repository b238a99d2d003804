import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.chemistry.bottle import (
    brimful_cl,
    cork_length_mm,
    thermal_rise,
    us_fill_tolerance_percent,
)


@pytest.mark.parametrize(("mark_mm", "brimful"), [(55, 76.7), (63, 77.0)])
def test_the_neck_above_the_mark(mark_mm, brimful):
    assert brimful_cl(nominal_cl=75, mark_mm=mark_mm) == pytest.approx(brimful, abs=0.1)


@given(st.floats(55, 80))
def test_a_cork_leaves_its_head_space(fill_level_mm):
    assert fill_level_mm - cork_length_mm(fill_level_mm=fill_level_mm) >= 17


def test_no_common_cork_fits_an_overfull_bottle():
    with pytest.raises(ValueError, match="fill level must lie within 55 to 80 mm"):
        cork_length_mm(fill_level_mm=50)


def test_wine_climbs_in_the_neck_as_it_warms():
    rise = thermal_rise(volume_ml=750, abv=12, from_c=15, to_c=25)

    assert rise.volume_ml == pytest.approx(1.97, abs=0.05)
    assert rise.height_mm == pytest.approx(7.3, abs=0.2)


def test_cooling_gives_it_back():
    up = thermal_rise(volume_ml=750, abv=12, from_c=15, to_c=25)
    down = thermal_rise(volume_ml=750 + up.volume_ml, abv=12, from_c=25, to_c=15)

    assert down.volume_ml == pytest.approx(-up.volume_ml)


def test_a_size_the_rule_does_not_print_is_refused():
    with pytest.raises(ValueError, match=r"must be one of 0\.75, 0\.375; 0\.5 was given"):
        us_fill_tolerance_percent(nominal_l=0.5)
