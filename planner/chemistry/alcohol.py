"""How strong did it get, and how strong can it get?"""

from planner.chemistry.density import (
    ALCOHOL_RULE,
    ETHANOL_20,
    WATER_20,
    alcohol_of_abv_kg_per_m3,
    unchecked_sugar_solution,
)
from planner.chemistry.figure import Figure, Rule, follows
from planner.chemistry.gravity import (
    apparent_brix_of_gravity,
    brix_of_gravity,
    gravity_of_apparent_brix,
)
from planner.chemistry.ranges import within
from planner.chemistry.roots import root

EXTRACT_RULE = Rule(
    "extract method",
    "Balling's yields, OIV-MA-AS2-03B (Tabarie), OIML R22 and ICUMSA SPS-4",
    "start 1.000 to 1.200; about 0.15 % vol for wort of 11 to 18 degP, 0.3 to 0.5 for country wine",
)
THUMB_RULE = Rule("x 131.25", "rule of thumb, no source", "start to 1.070; reads low above")
BALLING_RULE = Rule(
    "Balling", "Balling's attenuation formula, common practice", "start 1.000 to 1.200"
)
HIGH_GRAVITY_RULE = Rule(
    "76.08", "much quoted formula, from memory", "reads high from 1.060, 0.6 % vol at 1.090"
)
POTENTIAL_RULE = Rule(
    "sugar over g/L per % vol",
    "EU conversion factor 16.83 g/L, from memory",
    "hexose, 0 to 600 g/L",
)
ETHANOL_RULE = Rule("ethanol per litre", ALCOHOL_RULE.source, "0 to 100 % vol at 20 degC")

# Balling: 2.0665 g extract gives 1 g ethanol, 0.9565 g carbon dioxide and 0.11 g yeast.
EXTRACT_PER_ALCOHOL = 2.0665
LOST_PER_ALCOHOL = 1.0665
# From memory, EU oenology: grams of hexose per litre for each % vol.
EU_G_PER_L_PER_PERCENT = 16.83
# The alcohol tables at 0 % vol, so that a gravity without alcohol is exactly 1.
PURE_WATER = alcohol_of_abv_kg_per_m3(abv=0.0)
LOWEST_FINISH, HIGHEST_START = 0.96, 1.2
# Two hydrometer readings of 0.001 each may put a dry finish this far below the floor.
READING_SLACK = 0.002
# Common practice, no source: what any method may be out by in country wine, in % vol.
SPREAD_BELOW_12, SPREAD_FROM_12 = 0.3, 0.5


def check_pair(start_gravity: float, finish_gravity: float) -> None:
    """Refuse gravities out of range and a finish above its start."""
    within(start_gravity, 1.0, HIGHEST_START, name="start gravity")
    within(finish_gravity, LOWEST_FINISH, HIGHEST_START, name="finish gravity")
    if finish_gravity > start_gravity:
        raise ValueError(
            f"the finish {finish_gravity:.4f} lies above the start {start_gravity:.4f}"
        )


def real_extract_percent(*, original_brix: float, alcohol_percent: float) -> float:
    """Extract left, % by mass, once so much alcohol by mass has been made (Balling's yields)."""
    kept = original_brix * (100 + LOST_PER_ALCOHOL * alcohol_percent) / 100
    return kept - EXTRACT_PER_ALCOHOL * alcohol_percent


def most_alcohol_percent(original_brix: float) -> float:
    """Alcohol by mass when no extract is left."""
    return original_brix / (EXTRACT_PER_ALCOHOL - LOST_PER_ALCOHOL * original_brix / 100)


def extract_lift(extract_g_per_l: float) -> float:
    """Gravity of the extract alone; a little below zero extract is followed, not refused."""

    def miss(share: float) -> float:
        return share * unchecked_sugar_solution(share, 20.0) - extract_g_per_l

    share = root(miss, -0.15, 0.85)
    return unchecked_sugar_solution(share, 20.0) / unchecked_sugar_solution(0.0, 20.0)


def alcohol_drop(abv: float) -> float:
    """Gravity of the alcohol and water alone."""
    return alcohol_of_abv_kg_per_m3(abv=abv) / PURE_WATER


def gravity_of_wine(*, extract_g_per_l: float, abv: float) -> float:
    """Tabarie, OIV-MA-AS2-03B: the lift of the extract and the drop of the alcohol add up."""
    return extract_lift(extract_g_per_l) + alcohol_drop(abv) - 1


def _alcohol_percent(original_brix: float, finish_gravity: float) -> float:
    density = finish_gravity * WATER_20

    def miss(alcohol: float) -> float:
        extract = real_extract_percent(original_brix=original_brix, alcohol_percent=alcohol)
        abv = alcohol * density / ETHANOL_20
        return gravity_of_wine(extract_g_per_l=extract * density / 100, abv=abv) - finish_gravity

    most = most_alcohol_percent(original_brix)
    if miss(most) > READING_SLACK:
        raise ValueError(
            f"the finish {finish_gravity:.4f} lies below what this start can reach when dry"
        )
    return root(miss, 0.0, 1.1 * most + 0.5) if miss(0.0) > 0 else 0.0


@follows(EXTRACT_RULE, unit="% w/w")
def alcohol_by_mass(*, original_brix: float, apparent_brix: float) -> float:
    """Alcohol by mass from original and apparent extract, both in degBx or degP."""
    within(original_brix, 0, 45, name="original extract", unit="degBx")
    within(apparent_brix, -8, original_brix, name="apparent extract", unit="degBx")
    return _alcohol_percent(original_brix, gravity_of_apparent_brix(apparent_brix=apparent_brix))


@follows(EXTRACT_RULE, unit="% vol")
def extract_abv(*, start_gravity: float, finish_gravity: float) -> float:
    """Strength from start and finish, the method this house goes by."""
    check_pair(start_gravity, finish_gravity)
    alcohol = _alcohol_percent(brix_of_gravity(gravity=start_gravity), finish_gravity)
    return alcohol * finish_gravity * WATER_20 / ETHANOL_20


@follows(THUMB_RULE, unit="% vol")
def thumb_abv(*, start_gravity: float, finish_gravity: float) -> float:
    check_pair(start_gravity, finish_gravity)
    return 131.25 * (start_gravity - finish_gravity)


@follows(BALLING_RULE, unit="% vol")
def balling_abv(*, start_gravity: float, finish_gravity: float) -> float:
    check_pair(start_gravity, finish_gravity)
    original = brix_of_gravity(gravity=start_gravity)
    real = 0.1808 * original + 0.8192 * apparent_brix_of_gravity(gravity=finish_gravity)
    alcohol = (original - real) / (EXTRACT_PER_ALCOHOL - LOST_PER_ALCOHOL * original / 100)
    # IAPWS-95 and OIML R22 at 20 degC, in g/mL.
    return alcohol * finish_gravity * 0.99820 / 0.78924


@follows(HIGH_GRAVITY_RULE, unit="% vol")
def high_gravity_abv(*, start_gravity: float, finish_gravity: float) -> float:
    """Named for those who meet it; far out for strong and sweet wines."""
    check_pair(start_gravity, finish_gravity)
    mass = 76.08 * (start_gravity - finish_gravity) / (1.775 - start_gravity)
    return mass * finish_gravity / 0.794


def abv_by_method(*, start_gravity: float, finish_gravity: float) -> tuple[Figure, ...]:
    """Every method's strength, the extract method first, each with its rule."""
    methods = (extract_abv, balling_abv, thumb_abv, high_gravity_abv)
    return tuple(
        method.figure(start_gravity=start_gravity, finish_gravity=finish_gravity)
        for method in methods
    )


def strength(*, start_gravity: float, finish_gravity: float) -> Figure:
    """Strength as a range: the extract method, its known spread, and the two nearest methods."""
    pair = {"start_gravity": start_gravity, "finish_gravity": finish_gravity}
    value = extract_abv(**pair)
    spread = SPREAD_FROM_12 if value >= 12 else SPREAD_BELOW_12
    others = (balling_abv(**pair), thumb_abv(**pair))
    low = max(0.0, min(value - spread, *others))
    return EXTRACT_RULE.figure(value, "% vol", low=low, high=max(value + spread, *others))


@follows(POTENTIAL_RULE, unit="% vol")
def potential_abv(
    *, hexose_g_per_l: float, g_per_l_per_percent: float = EU_G_PER_L_PER_PERCENT
) -> float:
    """Strength that a sugar content can give; sucrose is first counted as hexose."""
    within(hexose_g_per_l, 0, 600, name="sugar", unit="g/L")
    return hexose_g_per_l / within(
        g_per_l_per_percent, 15.4, 20, name="sugar for each % vol", unit="g/L"
    )


@follows(ETHANOL_RULE, unit="g/L")
def ethanol_g_per_l(*, abv: float) -> float:
    """Grams of ethanol in a litre at 20 degC."""
    return within(abv, 0, 100, name="strength", unit="% vol") * ETHANOL_20 / 100
