"""How much gas is in it, and how much sugar makes the gas that is wanted?"""

import math

from planner.chemistry.figure import Rule, follows
from planner.chemistry.molar import (
    CO2_PER_GLUCOSE_MONOHYDRATE,
    CO2_PER_HEXOSE,
    CO2_PER_SUCROSE,
)
from planner.chemistry.ranges import one_of, within

WEISS_RULE = Rule(
    "Weiss 1974", "Weiss, Marine Chemistry 2:203 (1974)", "water, 0 to 40 degC, within 0.3 %"
)
SOLUBILITY_RULE = Rule(
    "Agabaliantz, carried by Weiss",
    "Reg. (EEC) 2676/90 chapter 37 at 20 degC, times K0(t)/K0(20) of Weiss 1974",
    "wine of 0 to 20 % vol and 0 to 200 g/L sugar, 0 to 40 degC; 2 to 8 % high on pressure",
)
RESIDUAL_RULE = Rule(
    "still full at the warmest since fermentation",
    SOLUBILITY_RULE.source,
    "fermented open and left alone; racked wine holds less, a closed vessel more",
)
VOLUME_RULE = Rule(
    "one volume is 1.9768 g/L",
    "CoolProp 8.0.0, gas at 0 degC and 101.325 kPa; the OIV pair 1.951/0.987",
    "any amount",
)
PRIMING_RULE = Rule(
    "full yield of carbon dioxide",
    "stoichiometry: 0.5143 g per gram of sucrose, 0.4886 of hexose",
    "all the sugar ferments in the closed bottle",
)
VAPOUR_RULE = Rule(
    "Wagner and Pruss",
    "Wagner & Pruss, J. Phys. Chem. Ref. Data 22:783 (1993), from memory, checked with CoolProp",
    "water, 0 to 60 degC",
)

# CoolProp 8.0.0: CO2 gas at 0 degC and 101.325 kPa.
G_PER_L_PER_VOLUME = 1.97681
# Definition of the standard atmosphere.
ATMOSPHERE_BAR = 1.01325
# ICUMSA SPS-4 near SG 1.01: fermentable sugar for each gravity point left.
SUGAR_G_PER_L_PER_POINT = 2.59
# USDA SR26 NDB 19296: sugars in 100 g of honey, nearly all hexose.
HONEY_SUGARS = 0.8212

# Stoichiometry: grams of CO2 from a gram of the priming sugar.
CO2_PER_GRAM = {
    "sucrose": CO2_PER_SUCROSE,
    "hexose": CO2_PER_HEXOSE,
    "glucose monohydrate": CO2_PER_GLUCOSE_MONOHYDRATE,
    "honey": CO2_PER_HEXOSE * HONEY_SUGARS,
}


@follows(WEISS_RULE, unit="ln(mol/(kg atm))")
def ln_k0(*, temperature_c: float, salinity: float = 0.0) -> float:
    """Logarithm of the solubility of CO2 in water; salinity only for the printed check value."""
    within(temperature_c, 0, 40, name="temperature", unit="degC")
    t = (temperature_c + 273.15) / 100
    fresh = -60.2409 + 93.4517 / t + 23.3585 * math.log(t)
    return fresh + salinity * (0.023517 - 0.023656 * t + 0.0047036 * t * t)


@follows(WEISS_RULE, unit="mol/(kg atm)")
def k0(*, temperature_c: float) -> float:
    """Solubility of CO2 in a kilogram of fresh water."""
    return math.exp(ln_k0(temperature_c=temperature_c))


@follows(WEISS_RULE, unit="mol/(L atm)")
def k0_per_litre(*, temperature_c: float) -> float:
    """Solubility of CO2 in a litre of fresh water, from the volumetric set of constants."""
    within(temperature_c, 0, 40, name="temperature", unit="degC")
    t = (temperature_c + 273.15) / 100
    return math.exp(-58.0931 + 90.5069 / t + 22.2940 * math.log(t))


@follows(VAPOUR_RULE, unit="bar")
def water_vapour_bar(*, temperature_c: float) -> float:
    """Pressure of water vapour over water."""
    kelvin = within(temperature_c, 0, 60, name="temperature", unit="degC") + 273.15
    # Wagner & Pruss 1993, equation (1).
    tau = 1 - kelvin / 647.096
    terms = (
        -7.85951783 * tau
        + 1.84408259 * tau**1.5
        - 11.7866497 * tau**3
        + 22.6807411 * tau**3.5
        - 15.9618719 * tau**4
        + 1.80122502 * tau**7.5
    )
    return 220.64 * math.exp(647.096 / kelvin * terms)


@follows(SOLUBILITY_RULE, unit="g/(L bar)")
def solubility_g_per_l_bar(
    *, temperature_c: float, abv: float, sugar_g_per_l: float = 0.0
) -> float:
    """Grams of CO2 that a litre of wine holds for each bar of CO2 above it."""
    within(abv, 0, 20, name="strength", unit="% vol")
    within(sugar_g_per_l, 0, 200, name="sugar", unit="g/L")
    # Reg. (EEC) 2676/90 chapter 37: 1.951e-5 g/(L Pa).
    at_20 = 1.951 * (0.86 - 0.01 * abv) * (1 - 0.00144 * sugar_g_per_l)
    return at_20 * k0_per_litre(temperature_c=temperature_c) / k0_per_litre(temperature_c=20.0)


@follows(SOLUBILITY_RULE, unit="g/L")
def co2_at_pressure_g_per_l(
    *, pressure_bar: float, temperature_c: float, abv: float, sugar_g_per_l: float = 0.0
) -> float:
    """Dissolved CO2 in balance with an absolute pressure of CO2."""
    within(pressure_bar, 0, 20, name="pressure", unit="bar")
    return pressure_bar * solubility_g_per_l_bar(
        temperature_c=temperature_c, abv=abv, sugar_g_per_l=sugar_g_per_l
    )


@follows(RESIDUAL_RULE, unit="g/L")
def residual_co2_g_per_l(*, warmest_c: float, abv: float, sugar_g_per_l: float = 0.0) -> float:
    """Gas still in an open wine, set by the warmest it has been since fermentation ended.

    For the dose give the warmest; for the pressure to fear, the coldest it has been held at.
    """
    gas_bar = ATMOSPHERE_BAR - water_vapour_bar(temperature_c=warmest_c)
    return co2_at_pressure_g_per_l(
        pressure_bar=gas_bar, temperature_c=warmest_c, abv=abv, sugar_g_per_l=sugar_g_per_l
    )


@follows(VOLUME_RULE, unit="g/L")
def co2_of_volumes_g_per_l(*, volumes: float) -> float:
    return within(volumes, 0, 20, name="volumes") * G_PER_L_PER_VOLUME


@follows(VOLUME_RULE, unit="volumes")
def volumes_of_co2(*, co2_g_per_l: float) -> float:
    return within(co2_g_per_l, 0, 40, name="carbon dioxide", unit="g/L") / G_PER_L_PER_VOLUME


@follows(PRIMING_RULE, unit="g/L")
def co2_of_sugar_g_per_l(*, sugar_g_per_l: float, kind: str = "sucrose") -> float:
    """Gas from sugar that ferments in the closed bottle."""
    one_of(kind, CO2_PER_GRAM, name="sugar")
    return within(sugar_g_per_l, 0, 200, name="sugar", unit="g/L") * CO2_PER_GRAM[kind]


@follows(PRIMING_RULE, unit="g/L")
def unfinished_co2_g_per_l(*, gravity: float, finish_gravity: float) -> float:
    """Gas still to come from the gravity points left above the finish."""
    if gravity < finish_gravity:
        return 0.0
    points = within(1000 * (gravity - finish_gravity), 0, 60, name="points left")
    return co2_of_sugar_g_per_l(sugar_g_per_l=points * SUGAR_G_PER_L_PER_POINT)


@follows(PRIMING_RULE, unit="g/L")
def priming_sugar_g_per_l(
    *,
    target_co2_g_per_l: float,
    residual_co2_g_per_l: float,
    unfinished_co2_g_per_l: float = 0.0,
    kind: str = "sucrose",
) -> float:
    """Priming sugar for each litre; refuses when the wine holds or will make enough already."""
    one_of(kind, CO2_PER_GRAM, name="sugar")
    within(target_co2_g_per_l, 0, 20, name="carbon dioxide wanted", unit="g/L")
    held = residual_co2_g_per_l + unfinished_co2_g_per_l
    if held > target_co2_g_per_l:
        raise ValueError(
            f"the wine holds or will make {held:.2f} g/L of gas, more than the "
            f"{target_co2_g_per_l:.2f} wanted"
        )
    return (target_co2_g_per_l - held) / CO2_PER_GRAM[kind]


@follows(PRIMING_RULE, unit="g/L")
def priming_by_volumes_g_per_l(
    *,
    volumes: float,
    warmest_c: float,
    abv: float,
    sugar_g_per_l: float = 0.0,
    kind: str = "sucrose",
) -> float:
    """Priming sugar for a number of volumes in a quiet wine that stood open."""
    return priming_sugar_g_per_l(
        target_co2_g_per_l=co2_of_volumes_g_per_l(volumes=volumes),
        residual_co2_g_per_l=residual_co2_g_per_l(
            warmest_c=warmest_c, abv=abv, sugar_g_per_l=sugar_g_per_l
        ),
        kind=kind,
    )
