import CoolProp.CoolProp as CoolProp
import pytest
from chemicals import iapws95_rho
from hypothesis import given
from hypothesis import strategies as st

from planner.chemistry.density import (
    abv_of_share,
    alcohol_of_abv_kg_per_m3,
    alcohol_solution_kg_per_m3,
    share_of_abv,
    sugar_solution_kg_per_m3,
    water_kg_per_m3,
)

# CoolProp refuses liquid water at 0 degC exactly.
TEMPERATURES = (0.01, 4, 10, 15, 15.56, 20, 25, 30, 35, 40)


@pytest.mark.parametrize("temperature_c", TEMPERATURES)
def test_water_agrees_with_two_independent_libraries(temperature_c):
    kelvin = temperature_c + 273.15

    ours = water_kg_per_m3(temperature_c=temperature_c)

    # Tanaka 2001 lies within 0.0012 kg/m3 of IAPWS-95.
    assert ours == pytest.approx(
        CoolProp.PropsSI("D", "T", kelvin, "P", 101325, "Water"), abs=0.002
    )
    assert ours == pytest.approx(iapws95_rho(kelvin, 101325), abs=0.002)


@pytest.mark.parametrize("temperature_c", TEMPERATURES)
def test_the_water_inside_the_sugar_and_alcohol_tables_is_the_same_water(temperature_c):
    water = water_kg_per_m3(temperature_c=temperature_c)

    # Kell-type and R22 water differ from IAPWS-95 by under 0.01 kg/m3.
    sugarless = sugar_solution_kg_per_m3(sugar_share=0, temperature_c=temperature_c)
    assert sugarless == pytest.approx(water, abs=0.01)
    spiritless = alcohol_solution_kg_per_m3(alcohol_share=0, temperature_c=temperature_c)
    assert spiritless == pytest.approx(water, abs=0.01)


@pytest.mark.parametrize("share", [0.01, 0.05, 0.1, 0.15, 0.2, 0.3, 0.4])
@pytest.mark.parametrize("temperature_c", [5, 10, 20, 30])
def test_alcohol_in_water_agrees_with_an_independent_library(share, temperature_c):
    fluid = f"INCOMP::MEA[{share}]"

    theirs = CoolProp.PropsSI("D", "T", temperature_c + 273.15, "P", 101325, fluid)

    # CoolProp's fit is a sanity check: within 0.31 kg/m3 of R22 at 20 degC, wider when cold.
    ours = alcohol_solution_kg_per_m3(alcohol_share=share, temperature_c=temperature_c)
    assert ours == pytest.approx(theirs, abs=0.8)


@given(st.floats(0, 100))
def test_strength_to_mass_share_and_back(abv):
    share = share_of_abv(abv=abv)

    assert abv_of_share(alcohol_share=share) == pytest.approx(abv, abs=1e-8)


@given(st.floats(0, 0.84), st.floats(0, 80))
def test_more_sugar_is_always_denser(share, temperature_c):
    thin = sugar_solution_kg_per_m3(sugar_share=share, temperature_c=temperature_c)
    thick = sugar_solution_kg_per_m3(sugar_share=share + 0.01, temperature_c=temperature_c)

    assert thick > thin


@given(st.floats(0, 99), st.floats(0, 40))
def test_more_alcohol_is_always_lighter(abv, temperature_c):
    weak = alcohol_of_abv_kg_per_m3(abv=abv, temperature_c=temperature_c)
    strong = alcohol_of_abv_kg_per_m3(abv=abv + 1, temperature_c=temperature_c)

    assert strong < weak


@pytest.mark.parametrize("temperature_c", [-0.1, 40.1, float("nan")])
def test_water_out_of_range_names_the_range(temperature_c):
    with pytest.raises(ValueError, match="temperature must lie within 0 to 40 degC"):
        water_kg_per_m3(temperature_c=temperature_c)


def test_a_share_given_in_percent_is_refused():
    with pytest.raises(ValueError, match=r"sugar share must lie within 0 to 0\.85"):
        sugar_solution_kg_per_m3(sugar_share=20)
