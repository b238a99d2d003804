import CoolProp.CoolProp as CoolProp
import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.chemistry.carbonation import (
    co2_at_pressure_g_per_l,
    co2_of_sugar_g_per_l,
    co2_of_volumes_g_per_l,
    k0,
    priming_sugar_g_per_l,
    residual_co2_g_per_l,
    solubility_g_per_l_bar,
    unfinished_co2_g_per_l,
    volumes_of_co2,
    water_vapour_bar,
)


@pytest.mark.parametrize("temperature_c", [0.01, 5, 10, 15, 20, 25, 30, 35, 40, 50, 60])
def test_water_vapour_agrees_with_an_independent_library(temperature_c):
    theirs = CoolProp.PropsSI("P", "T", temperature_c + 273.15, "Q", 0, "Water") / 1e5

    assert water_vapour_bar(temperature_c=temperature_c) == pytest.approx(theirs, rel=1e-3)


def test_one_volume_agrees_with_an_independent_library():
    theirs = CoolProp.PropsSI("D", "T", 273.15, "P", 101325, "CO2")

    assert co2_of_volumes_g_per_l(volumes=1.0) == pytest.approx(theirs, abs=0.0005)


# PHREEQC (phreeqpython 1.6.2): dissolved carbon at 1 atm of CO2, mmol per kg of water.
@pytest.mark.parametrize(
    ("temperature_c", "mmol_per_kg"),
    [(5, 64.06), (10, 53.85), (15, 45.87), (20, 39.56), (25, 34.50), (30, 30.40)],
)
def test_solubility_agrees_with_an_independent_database(temperature_c, mmol_per_kg):
    # The two differ by 0.1 to 1.5 %; K0 counts CO2 alone, and the gas is a little unideal.
    assert 1000 * k0(temperature_c=temperature_c) == pytest.approx(mmol_per_kg, rel=0.02)


# Weiss K0(t)/K0(20), printed to three decimals by a separate program.
@pytest.mark.parametrize(
    ("temperature_c", "factor"),
    [(0, 1.984), (5, 1.639), (10, 1.373), (15, 1.164), (25, 0.869), (30, 0.763), (40, 0.606)],
)
def test_cold_wine_holds_more_gas(temperature_c, factor):
    cold = solubility_g_per_l_bar(temperature_c=temperature_c, abv=12)
    at_20 = solubility_g_per_l_bar(temperature_c=20, abv=12)

    assert cold / at_20 == pytest.approx(factor, abs=0.001)


@given(st.floats(0, 39), st.floats(0, 20), st.floats(0, 200))
def test_a_warmer_wine_keeps_less_gas(warmest_c, abv, sugar_g_per_l):
    cool = residual_co2_g_per_l(warmest_c=warmest_c, abv=abv, sugar_g_per_l=sugar_g_per_l)
    warm = residual_co2_g_per_l(warmest_c=warmest_c + 1, abv=abv, sugar_g_per_l=sugar_g_per_l)

    assert warm < cool


@given(st.floats(0, 8), st.sampled_from(["sucrose", "hexose", "glucose monohydrate", "honey"]))
def test_priming_gives_just_the_gas_wanted(missing, kind):
    sugar = priming_sugar_g_per_l(
        target_co2_g_per_l=1.5 + missing, residual_co2_g_per_l=1.5, kind=kind
    )

    gas = co2_of_sugar_g_per_l(sugar_g_per_l=sugar, kind=kind)
    assert gas == pytest.approx(missing, abs=1e-9)


# Stoichiometry: grams of sugar for each gram of gas.
@pytest.mark.parametrize(
    ("kind", "grams"),
    [("sucrose", 1.944), ("hexose", 2.047), ("glucose monohydrate", 2.251), ("honey", 2.49)],
)
def test_each_sugar_has_its_own_yield(kind, grams):
    sugar = priming_sugar_g_per_l(target_co2_g_per_l=1.0, residual_co2_g_per_l=0.0, kind=kind)

    assert sugar == pytest.approx(grams, abs=0.005)


def test_priming_needs_less_sugar_when_the_wine_stayed_cold():
    warm, cold = (
        priming_sugar_g_per_l(
            target_co2_g_per_l=6.0,
            residual_co2_g_per_l=residual_co2_g_per_l(warmest_c=warmest_c, abv=12),
        )
        for warmest_c in (20, 10)
    )

    # Worked by a separate program: 0.55 g/L of gas, 1.1 g of sucrose.
    assert warm - cold == pytest.approx(1.1, abs=0.05)


def test_priming_a_cider_by_volumes():
    target = co2_of_volumes_g_per_l(volumes=3.0)
    residual = residual_co2_g_per_l(warmest_c=18, abv=11.3)

    sugar = priming_sugar_g_per_l(target_co2_g_per_l=target, residual_co2_g_per_l=residual)

    assert volumes_of_co2(co2_g_per_l=residual) == pytest.approx(0.777, rel=0.02)
    assert sugar == pytest.approx(8.54, rel=0.02)


def test_five_points_left_are_three_and_a_half_volumes():
    gas = unfinished_co2_g_per_l(gravity=1.001, finish_gravity=0.996)

    assert gas == pytest.approx(6.66, abs=0.01)
    assert volumes_of_co2(co2_g_per_l=gas) == pytest.approx(3.37, abs=0.01)


def test_the_law_counts_the_absolute_pressure():
    at_one_bar_excess = co2_at_pressure_g_per_l(pressure_bar=2.01325, temperature_c=20, abv=11)

    assert at_one_bar_excess == pytest.approx(2.95, abs=0.01)


def test_a_wine_with_enough_gas_is_not_primed():
    with pytest.raises(
        ValueError, match=r"holds or will make 8\.20 g/L of gas, more than the 5\.00"
    ):
        priming_sugar_g_per_l(
            target_co2_g_per_l=5.0, residual_co2_g_per_l=1.54, unfinished_co2_g_per_l=6.66
        )


def test_an_unknown_sugar_is_refused():
    with pytest.raises(ValueError, match="sugar must be one of sucrose, hexose"):
        co2_of_sugar_g_per_l(sugar_g_per_l=8.0, kind="lactose")


def test_a_shed_hotter_than_the_table_is_refused():
    with pytest.raises(ValueError, match="within 0 to 40 degC"):
        solubility_g_per_l_bar(temperature_c=45, abv=12)
