"""How hard does the gas press in a closed bottle, on a given day?"""

from planner.chemistry.carbonation import (
    ATMOSPHERE_BAR,
    SOLUBILITY_RULE,
    solubility_g_per_l_bar,
    water_vapour_bar,
)
from planner.chemistry.density import alcohol_of_abv_kg_per_m3
from planner.chemistry.figure import Rule, follows
from planner.chemistry.molar import CARBON_DIOXIDE
from planner.chemistry.ranges import within
from planner.chemistry.roots import root

BOTTLE_RULE = Rule(
    "gas shared by liquid and head space",
    f"{SOLUBILITY_RULE.source}; second virial coefficient of Pitzer and Abbott",
    "sealed bottle of 0.05 to 60 L, 0 to 40 degC, to 20 bar; air left in the neck is extra",
)
GAS_RULE = Rule(
    "second virial coefficient",
    "Pitzer and Abbott, as in Smith, Van Ness & Abbott, Chemical Engineering Thermodynamics",
    "CO2, 0 to 40 degC, to 20 bar",
)

# CODATA 2018, in L bar/(mol K).
GAS_CONSTANT = 0.0831446
# Span & Wagner 1996 critical point of CO2, and its acentric factor.
CRITICAL_K, CRITICAL_BAR, ACENTRIC = 304.13, 73.77, 0.2239
# Beyond this no glass is made for it.
HIGHEST_BAR = 20.0


@follows(GAS_RULE, unit="Z")
def compressibility(*, pressure_bar: float, temperature_c: float) -> float:
    """How far CO2 gas falls short of an ideal gas."""
    within(pressure_bar, 0, HIGHEST_BAR, name="pressure", unit="bar")
    within(temperature_c, 0, 40, name="temperature", unit="degC")
    reduced = (temperature_c + 273.15) / CRITICAL_K
    b0 = 0.083 - 0.422 / reduced**1.6
    b1 = 0.139 - 0.172 / reduced**4.2
    return 1 + (b0 + ACENTRIC * b1) * pressure_bar / CRITICAL_BAR / reduced


def swollen_l(*, fill_l: float, temperature_c: float, abv: float) -> float:
    """The room that wine filled at 20 degC takes at another temperature."""
    now = alcohol_of_abv_kg_per_m3(abv=abv, temperature_c=temperature_c)
    return fill_l * alcohol_of_abv_kg_per_m3(abv=abv) / now


def head_space_l(*, fill_l: float, brimful_l: float, temperature_c: float, abv: float) -> float:
    """Room above the wine as filled at 20 degC; refused where warmth would close it.

    Swelling of the wine is left out of the gas balance: it lifts the pressure by under 1.5 %,
    and the solubility above already lies 2 to 8 % on the safe side.
    """
    within(brimful_l, 0.05, 60, name="brimful capacity", unit="L")
    if fill_l >= brimful_l:
        raise ValueError(f"a fill of {fill_l:g} L leaves no room in a bottle of {brimful_l:g} L")
    within(fill_l, 0.01, brimful_l, name="fill", unit="L")
    if swollen_l(fill_l=fill_l, temperature_c=temperature_c, abv=abv) >= brimful_l:
        raise ValueError(
            f"at {temperature_c:g} degC {fill_l:g} L of wine swells to fill {brimful_l:g} L and "
            "would burst any bottle"
        )
    return brimful_l - fill_l


def _held_g(
    pressure_bar: float, solubility: float, fill_l: float, head_l: float, temperature_c: float
) -> float:
    """Grams of CO2 in liquid and head space under a pressure of CO2."""
    z = compressibility(pressure_bar=pressure_bar, temperature_c=temperature_c)
    molar_l = z * GAS_CONSTANT * (temperature_c + 273.15)
    return pressure_bar * (solubility * fill_l + head_l * CARBON_DIOXIDE / molar_l)


@follows(BOTTLE_RULE, unit="bar")
def co2_pressure_bar(
    *,
    co2_g_per_l: float,
    fill_l: float,
    brimful_l: float,
    temperature_c: float,
    abv: float,
    sugar_g_per_l: float = 0.0,
) -> float:
    """Absolute pressure of the CO2 alone; `co2_g_per_l` is all of it over the litres filled."""
    within(co2_g_per_l, 0, 40, name="carbon dioxide", unit="g/L")
    head_l = head_space_l(fill_l=fill_l, brimful_l=brimful_l, temperature_c=temperature_c, abv=abv)
    solubility = solubility_g_per_l_bar(
        temperature_c=temperature_c, abv=abv, sugar_g_per_l=sugar_g_per_l
    )
    total = co2_g_per_l * fill_l

    def miss(pressure_bar: float) -> float:
        return _held_g(pressure_bar, solubility, fill_l, head_l, temperature_c) - total

    if miss(HIGHEST_BAR) < 0:
        raise ValueError(f"{co2_g_per_l:.1f} g/L of gas would pass {HIGHEST_BAR:g} bar")
    return root(miss, 0.0, HIGHEST_BAR)


@follows(BOTTLE_RULE, unit="bar over atmosphere")
def gauge_bar(
    *,
    co2_g_per_l: float,
    fill_l: float,
    brimful_l: float,
    temperature_c: float,
    abv: float,
    sugar_g_per_l: float = 0.0,
    air_bar: float = 0.0,
) -> float:
    """Pressure over the atmosphere; `air_bar` adds air closed in with the wine (0 to 1)."""
    within(air_bar, 0, 1.1, name="air in the neck", unit="bar")
    gas = co2_pressure_bar(
        co2_g_per_l=co2_g_per_l,
        fill_l=fill_l,
        brimful_l=brimful_l,
        temperature_c=temperature_c,
        abv=abv,
        sugar_g_per_l=sugar_g_per_l,
    )
    return gas + water_vapour_bar(temperature_c=temperature_c) + air_bar - ATMOSPHERE_BAR


@follows(BOTTLE_RULE, unit="g/L")
def most_co2_g_per_l(
    *,
    rated_gauge_bar: float,
    fill_l: float,
    brimful_l: float,
    temperature_c: float,
    abv: float,
    sugar_g_per_l: float = 0.0,
    air_bar: float = 0.0,
) -> float:
    """The gas that brings a bottle just to its rating at this temperature."""
    within(rated_gauge_bar, 0, HIGHEST_BAR - 1, name="rating", unit="bar")
    vapour = water_vapour_bar(temperature_c=temperature_c)
    gas_bar = max(0.0, rated_gauge_bar + ATMOSPHERE_BAR - vapour - air_bar)
    head_l = head_space_l(fill_l=fill_l, brimful_l=brimful_l, temperature_c=temperature_c, abv=abv)
    solubility = solubility_g_per_l_bar(
        temperature_c=temperature_c, abv=abv, sugar_g_per_l=sugar_g_per_l
    )
    return _held_g(gas_bar, solubility, fill_l, head_l, temperature_c) / fill_l
