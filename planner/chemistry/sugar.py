"""How much sugar is in it, how much more is wanted, and what room does it take?"""

from dataclasses import dataclass

from planner.chemistry.density import SUGAR_RULE, WATER_20, sugar_solution_kg_per_m3
from planner.chemistry.figure import Rule, follows
from planner.chemistry.gravity import HIGHEST_GRAVITY, brix_of_gravity, gravity_of_brix
from planner.chemistry.molar import HEXOSE_PER_SUCROSE
from planner.chemistry.ranges import within
from planner.chemistry.roots import root

CONCENTRATION_RULE = Rule(
    "ICUMSA SPS-4, mass per litre", SUGAR_RULE.source, "sucrose in water at 20 degC, 0 to 85 degBx"
)
INVERSION_RULE = Rule("inversion of sucrose", "stoichiometry: 342.30 g gives 360.31 g", "exact")
SWEETENING_RULE = Rule(
    "mass balance with displaced volume",
    "ICUMSA SPS-4 gives 0.616 to 0.63 mL per gram of dissolved sucrose",
    "wine of 0.980 to 1.100; volume within 1 %",
)

# ICUMSA SPS-4: dissolved sucrose takes 0.616 mL/g in dilute must, 0.63 in syrup.
DISPLACED_L_PER_KG = 0.62
# The mass concentration of 85 degBx at 20 degC, rounded down.
HIGHEST_G_PER_L = 1225.0
WATER_KG_PER_L = WATER_20 / 1000


@dataclass(frozen=True, slots=True)
class Syrup:
    """A dissolved sugar: its strength, volume and gravity at 20 degC."""

    brix: float
    volume_l: float
    sugar_g_per_l: float
    gravity: float
    rule: Rule = CONCENTRATION_RULE


@dataclass(frozen=True, slots=True)
class Sweetening:
    """Sugar to stir in, and the wine after it."""

    sugar_kg: float
    volume_l: float
    sugar_g_per_l: float
    rule: Rule = SWEETENING_RULE


@follows(CONCENTRATION_RULE, unit="g/L")
def sugar_of_brix_g_per_l(*, brix: float) -> float:
    """Sucrose in a litre of solution at 20 degC."""
    within(brix, 0, 85, name="Brix", unit="degBx")
    return brix / 100 * sugar_solution_kg_per_m3(sugar_share=brix / 100)


@follows(CONCENTRATION_RULE, unit="degBx")
def brix_of_sugar(*, sugar_g_per_l: float) -> float:
    """Degrees Brix of a solution that holds so much sucrose in a litre at 20 degC."""
    within(sugar_g_per_l, 0, HIGHEST_G_PER_L, name="sugar", unit="g/L")
    return root(lambda brix: sugar_of_brix_g_per_l(brix=brix) - sugar_g_per_l, 0.0, 85.0)


@follows(CONCENTRATION_RULE, unit="g/L")
def sugar_of_gravity_g_per_l(*, gravity: float) -> float:
    """Sucrose in a litre of a sugar-only must of gravity 20/20."""
    return sugar_of_brix_g_per_l(brix=brix_of_gravity(gravity=gravity))


@follows(CONCENTRATION_RULE, unit="SG")
def gravity_of_sugar(*, sugar_g_per_l: float) -> float:
    """Gravity 20/20 of a sugar-only must."""
    return gravity_of_brix(brix=brix_of_sugar(sugar_g_per_l=sugar_g_per_l))


@follows(CONCENTRATION_RULE, unit="L")
def dissolved_volume_l(*, water_l: float, sugar_kg: float) -> float:
    """Volume at 20 degC after dissolving sucrose in water of 20 degC."""
    return syrup(water_l=water_l, sugar_kg=sugar_kg).volume_l


@follows(CONCENTRATION_RULE, unit="L/kg")
def displaced_l_per_kg(*, sugar_g_per_l: float) -> float:
    """The room a kilogram of dissolved sucrose takes in a solution of this strength."""
    within(sugar_g_per_l, 1, HIGHEST_G_PER_L, name="sugar", unit="g/L")
    share = brix_of_sugar(sugar_g_per_l=sugar_g_per_l) / 100
    litre_kg = sugar_g_per_l / share / 1000
    water_l = litre_kg * (1 - share) * 1000 / WATER_20
    return (1 - water_l) / (sugar_g_per_l / 1000)


def syrup(*, water_l: float, sugar_kg: float) -> Syrup:
    """Dissolve sucrose in water, both at 20 degC."""
    within(water_l, 0.001, 100_000, name="water", unit="L")
    within(sugar_kg, 0, 500_000, name="sugar", unit="kg")
    total_kg = water_l * WATER_20 / 1000 + sugar_kg
    share = within(sugar_kg / total_kg, 0, 0.85, name="sugar share of the syrup")
    volume_l = total_kg / sugar_solution_kg_per_m3(sugar_share=share) * 1000
    return Syrup(
        100 * share, volume_l, 1000 * sugar_kg / volume_l, gravity_of_brix(brix=100 * share)
    )


@follows(CONCENTRATION_RULE, unit="kg")
def sugar_to_reach_kg(*, volume_l: float, gravity: float, target_gravity: float) -> float:
    """Extra sucrose in a must that ends at the same volume, sugar taking the place of water."""
    within(target_gravity, gravity, HIGHEST_GRAVITY, name="wanted gravity")
    held = sugar_of_gravity_g_per_l(gravity=gravity)
    return volume_l * (sugar_of_gravity_g_per_l(gravity=target_gravity) - held) / 1000


@follows(CONCENTRATION_RULE, unit="kg")
def sugar_to_stir_in_kg(*, volume_l: float, gravity: float, target_gravity: float) -> float:
    """Sucrose stirred into a full volume, which grows by the sugar's own room."""
    within(target_gravity, gravity, HIGHEST_GRAVITY, name="wanted gravity")
    share, wanted = (brix_of_gravity(gravity=g) / 100 for g in (gravity, target_gravity))
    must_kg = volume_l * sugar_solution_kg_per_m3(sugar_share=share) / 1000
    return must_kg * (wanted - share) / (1 - wanted)


@follows(CONCENTRATION_RULE, unit="L")
def water_to_thin_l(*, volume_l: float, gravity: float, target_gravity: float) -> float:
    """Water that brings a sweeter must down to the wanted gravity."""
    within(target_gravity, 1.0001, gravity, name="wanted gravity")
    share, wanted = (brix_of_gravity(gravity=g) / 100 for g in (gravity, target_gravity))
    must_kg = volume_l * sugar_solution_kg_per_m3(sugar_share=share) / 1000
    return must_kg * (share / wanted - 1) * 1000 / WATER_20


@follows(INVERSION_RULE, unit="g/L")
def hexose_of_sucrose(*, sucrose_g_per_l: float) -> float:
    """What the same sugar weighs once yeast or acid has split it."""
    return sucrose_g_per_l * HEXOSE_PER_SUCROSE


def sweeten(*, volume_l: float, gravity: float, target_gravity: float) -> Sweetening:
    """Sucrose that lifts a finished wine to a gravity; its own sugar left is not counted."""
    within(volume_l, 0.001, 100_000, name="volume", unit="L")
    within(gravity, 0.98, 1.1, name="gravity")
    within(target_gravity, gravity, 1.1, name="wanted gravity")
    lift_kg = volume_l * (target_gravity - gravity) * WATER_KG_PER_L
    sugar_kg = lift_kg / (1 - DISPLACED_L_PER_KG * target_gravity * WATER_KG_PER_L)
    sweetened_l = volume_l + DISPLACED_L_PER_KG * sugar_kg
    return Sweetening(sugar_kg, sweetened_l, 1000 * sugar_kg / sweetened_l)


def sweeten_by(*, volume_l: float, sugar_g_per_l: float) -> Sweetening:
    """Sucrose that leaves so much of it in a litre of the sweetened wine."""
    within(volume_l, 0.001, 100_000, name="volume", unit="L")
    within(sugar_g_per_l, 0, 400, name="sugar", unit="g/L")
    sweetened_l = volume_l / (1 - DISPLACED_L_PER_KG * sugar_g_per_l / 1000)
    return Sweetening(sweetened_l * sugar_g_per_l / 1000, sweetened_l, sugar_g_per_l)
