"""How dense is a must, on which scale and against which water?"""

from planner.chemistry.density import (
    SUGAR_RULE,
    WATER_20,
    sugar_solution_kg_per_m3,
    unchecked_sugar_solution,
)
from planner.chemistry.figure import Rule, follows
from planner.chemistry.ranges import within
from planner.chemistry.roots import root

# The three references in use: SG 20/20, 15/15 and 60/60 degF.
REFERENCE_C = {"20/20": 20.0, "15/15": 15.0, "60/60 F": 140 / 9}

# A bare "SG" in this project is true density at 20 degC over water at 20 degC.
STANDARD_C = 20.0

GRAVITY_RULE = Rule(
    "ICUMSA SPS-4, ratio to water",
    SUGAR_RULE.source,
    "sucrose in water, 0 to 85 degBx, reference 0 to 40 degC",
)
OECHSLE_RULE = Rule("degrees Oechsle", "definition: 1000 (SG - 1)", "any gravity")
APPARENT_RULE = Rule(
    "apparent gravity in air",
    "NBS Circular 440 (1942) and ICUMSA SPS-4; air 1.2 kg/m3",
    "sucrose in water, 0 to 85 degBx, 20 degC",
)

APPARENT_EXTRACT_RULE = Rule(
    "apparent extract",
    "ICUMSA SPS-4, its polynomial run on below water",
    "gravity 0.95 to 1.4 at 20 degC; below 1 it is a scale, not a sugar content",
)

# NBS Circular 440 (1942): air 0.0012 g/mL, brass weights 8.4 g/mL.
AIR_KG_PER_M3 = 1.2
BRASS_KG_PER_M3 = 8400.0

# The gravity of 85 degBx at 20/20, where the sugar formula ends, rounded down.
HIGHEST_GRAVITY = 1.4


@follows(GRAVITY_RULE, unit="SG")
def gravity_of_brix(*, brix: float, reference_c: float = STANDARD_C) -> float:
    """Gravity of a sucrose solution, t over t; degrees Brix and Plato are the same here."""
    within(brix, 0, 85, name="Brix", unit="degBx")
    within(reference_c, 0, 40, name="reference temperature", unit="degC")
    solution = sugar_solution_kg_per_m3(sugar_share=brix / 100, temperature_c=reference_c)
    return solution / sugar_solution_kg_per_m3(sugar_share=0, temperature_c=reference_c)


@follows(GRAVITY_RULE, unit="degBx")
def brix_of_gravity(*, gravity: float, reference_c: float = STANDARD_C) -> float:
    """Degrees Brix (or Plato) of a sucrose solution: grams per 100 g."""
    within(gravity, 1.0, HIGHEST_GRAVITY, name="gravity")
    return root(
        lambda brix: gravity_of_brix(brix=brix, reference_c=reference_c) - gravity, 0.0, 85.0
    )


@follows(APPARENT_EXTRACT_RULE, unit="degBx")
def apparent_brix_of_gravity(*, gravity: float) -> float:
    """Apparent extract of a wine, which falls below zero where alcohol outweighs extract."""
    within(gravity, 0.95, HIGHEST_GRAVITY, name="gravity")
    return root(lambda brix: gravity_of_apparent_brix(apparent_brix=brix) - gravity, -15.0, 85.0)


@follows(APPARENT_EXTRACT_RULE, unit="SG")
def gravity_of_apparent_brix(*, apparent_brix: float) -> float:
    """The gravity 20/20 that goes with an apparent extract."""
    within(apparent_brix, -15, 85, name="apparent extract", unit="degBx")
    solution = unchecked_sugar_solution(apparent_brix / 100, STANDARD_C)
    return solution / unchecked_sugar_solution(0, STANDARD_C)


@follows(GRAVITY_RULE, unit="SG")
def gravity_at_reference(*, gravity: float, from_c: float, to_c: float) -> float:
    """The gravity of the same sugar solution against another reference temperature."""
    brix = brix_of_gravity(gravity=gravity, reference_c=from_c)
    return gravity_of_brix(brix=brix, reference_c=to_c)


@follows(OECHSLE_RULE, unit="degOe")
def oechsle_of_gravity(*, gravity: float) -> float:
    """Degrees Oechsle, the same number as gravity points."""
    return 1000 * (gravity - 1)


@follows(OECHSLE_RULE, unit="SG")
def gravity_of_oechsle(*, oechsle: float) -> float:
    return 1 + oechsle / 1000


@follows(APPARENT_RULE, unit="SG")
def apparent_gravity_of_brix(*, brix: float) -> float:
    """Gravity 20/20 as weighed in air, on which the NBS and USDA tables are built."""
    solution = sugar_solution_kg_per_m3(sugar_share=within(brix, 0, 85, name="Brix") / 100)
    return (solution - AIR_KG_PER_M3) / (WATER_20 - AIR_KG_PER_M3)


@follows(APPARENT_RULE, unit="kg/m3")
def weight_in_air_kg_per_m3(*, brix: float) -> float:
    """What a cubic metre of sugar solution shows on a balance with brass weights at 20 degC."""
    solution = sugar_solution_kg_per_m3(sugar_share=within(brix, 0, 85, name="Brix") / 100)
    return (solution - AIR_KG_PER_M3) / (1 - AIR_KG_PER_M3 / BRASS_KG_PER_M3)
