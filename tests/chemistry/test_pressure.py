import CoolProp.CoolProp as CoolProp
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.chemistry.pressure import (
    compressibility,
    gauge_bar,
    head_space_l,
    most_co2_g_per_l,
    swollen_l,
)

# One volume of CO2 in g/L.
VOLUME = 1.97681


@pytest.mark.parametrize("temperature_c", [0, 10, 20, 30, 40])
@pytest.mark.parametrize("pressure_bar", [1, 2, 4, 6, 8, 12])
def test_real_gas_agrees_with_an_independent_library(temperature_c, pressure_bar):
    theirs = CoolProp.PropsSI("Z", "T", temperature_c + 273.15, "P", pressure_bar * 1e5, "CO2")

    ours = compressibility(pressure_bar=pressure_bar, temperature_c=temperature_c)
    assert ours == pytest.approx(theirs, abs=0.005)


# Worked by a separate program that takes solubility by the kilogram, 0.3 % apart at 30 degC.
@pytest.mark.parametrize(
    ("volumes", "fill_l", "brimful_l", "temperature_c", "bar"),
    [
        (3.0, 0.75, 0.775, 20, 2.91),
        (3.0, 0.75, 0.775, 30, 4.07),
        (3.0, 0.75, 0.775, 34, 4.56),
        (3.0, 0.5, 0.52, 30, 4.02),
        (4.11, 0.5, 0.52, 20, 4.31),
        (4.11, 0.5, 0.52, 30, 5.87),
    ],
)
def test_pressure_in_a_primed_bottle(volumes, fill_l, brimful_l, temperature_c, bar):
    gauge = gauge_bar(
        co2_g_per_l=volumes * VOLUME,
        fill_l=fill_l,
        brimful_l=brimful_l,
        temperature_c=temperature_c,
        abv=11.3,
    )

    assert gauge == pytest.approx(bar, abs=0.05)


def test_the_most_a_weak_bottle_may_hold():
    most = most_co2_g_per_l(
        rated_gauge_bar=3.0, fill_l=0.5, brimful_l=0.52, temperature_c=30, abv=11.3
    )

    assert most / VOLUME == pytest.approx(2.39, rel=0.01)


@given(st.floats(0.1, 10), st.floats(0, 40), st.floats(0.01, 0.1), st.floats(0, 16))
def test_the_rating_and_the_gas_undo_each_other(bar, temperature_c, room_l, abv):
    bottle = {
        "fill_l": 0.75,
        "brimful_l": 0.75 + room_l,
        "temperature_c": temperature_c,
        "abv": abv,
    }

    most = most_co2_g_per_l(rated_gauge_bar=bar, **bottle)

    assert gauge_bar(co2_g_per_l=most, **bottle) == pytest.approx(bar, abs=1e-7)


@given(st.floats(0.5, 14), st.floats(0, 39))
def test_warmth_always_raises_the_pressure(co2_g_per_l, temperature_c):
    bottle = {"co2_g_per_l": co2_g_per_l, "fill_l": 0.75, "brimful_l": 0.775, "abv": 12}

    cool = gauge_bar(temperature_c=temperature_c, **bottle)
    warm = gauge_bar(temperature_c=temperature_c + 1, **bottle)

    assert warm > cool


def test_air_closed_in_presses_on_top():
    bottle = {
        "co2_g_per_l": 5.93,
        "fill_l": 0.75,
        "brimful_l": 0.775,
        "temperature_c": 20,
        "abv": 11,
    }

    assert gauge_bar(air_bar=0.8, **bottle) - gauge_bar(**bottle) == pytest.approx(0.8)


def test_wine_swells_as_it_warms():
    warm = swollen_l(fill_l=0.75, temperature_c=25, abv=12)

    # OIML R22: 12 % vol weighs 982.355 at 20 and 980.934 kg/m3 at 25 degC.
    assert warm == pytest.approx(0.75 * 982.355 / 980.934, rel=1e-6)


def test_a_fill_above_brimful_is_refused():
    with pytest.raises(
        ValueError, match=r"a fill of 0\.76 L leaves no room in a bottle of 0\.75 L"
    ):
        head_space_l(fill_l=0.76, brimful_l=0.75, temperature_c=20, abv=12)


def test_a_fill_that_swells_past_the_brim_is_refused():
    with pytest.raises(ValueError, match="swells to fill"):
        head_space_l(fill_l=0.772, brimful_l=0.775, temperature_c=35, abv=12)


def test_gas_beyond_any_bottle_is_refused():
    with pytest.raises(ValueError, match="would pass 20 bar"):
        gauge_bar(co2_g_per_l=35, fill_l=0.75, brimful_l=0.775, temperature_c=35, abv=12)
