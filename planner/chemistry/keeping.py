"""Will a cordial or syrup keep, where, and by what virtue?"""

import math
from dataclasses import dataclass

from planner.chemistry.figure import Rule, follows
from planner.chemistry.molar import HEXOSE, SUCROSE, WATER
from planner.chemistry.ranges import one_of, within
from planner.chemistry.roots import root

NORRISH_RULE = Rule(
    "Norrish",
    "Norrish 1966, constants as in Chirife, from memory",
    "sucrose and invert sugar in water, 0 to 75 % by mass, room temperature",
)
SHELF_RULE = Rule(
    "shelf by sugar, acid and heat",
    "pH 4.6 line: Worobo & Padilla-Zakour (Cornell); pH 4.0 and 65 degBx: advice, no norm",
    "clean bottles, unopened; opened, every syrup goes to the cold",
)

# Norrish constants, from memory: sucrose 6.47, glucose and fructose 2.25.
K_SUCROSE, K_HEXOSE = 6.47, 2.25
# Worobo & Padilla-Zakour (Cornell): either one makes a food non-hazardous for pathogens.
HAZARD_WATER_ACTIVITY = 0.85
ACID_FOOD_PH = 4.6
# Advice, not a norm.
CUPBOARD_BRIX, CUPBOARD_PH = 65.0, 4.0
HEATS = ("none", "hot-filled", "pasteurised")


@dataclass(frozen=True, slots=True)
class Shelf:
    """Where to keep it and why; `cold` is the careful answer when anything is not known."""

    place: str
    reasons: tuple[str, ...]
    rule: Rule = SHELF_RULE


@follows(NORRISH_RULE, unit="a_w")
def water_activity(*, sucrose_share: float = 0.0, invert_share: float = 0.0) -> float:
    """How free the water is; shares are grams per gram of syrup."""
    within(sucrose_share, 0, 0.75, name="sucrose share")
    within(invert_share, 0, 0.75, name="invert sugar share")
    within(sucrose_share + invert_share, 0, 0.75, name="sugar share in all")
    sucrose, hexose = sucrose_share / SUCROSE, invert_share / HEXOSE
    water = (1 - sucrose_share - invert_share) / WATER
    total = sucrose + hexose + water
    # For two sugars the roots of the constants add up by mole fraction.
    pull = (math.sqrt(K_SUCROSE) * sucrose + math.sqrt(K_HEXOSE) * hexose) / total
    return water / total * math.exp(-(pull**2))


@follows(NORRISH_RULE, unit="g/g")
def sucrose_share_for(*, water_activity_wanted: float) -> float:
    """Sucrose share that brings the water activity down to this."""
    lowest = water_activity(sucrose_share=0.75)
    within(water_activity_wanted, lowest, 1, name="water activity")
    return root(
        lambda share: water_activity(sucrose_share=share) - water_activity_wanted, 0.0, 0.75
    )


def shelf(*, brix: float | None, ph: float | None, heat: str) -> Shelf:
    """Cupboard or cold, from degrees Brix, pH and how it was filled; not known counts as not met."""
    one_of(heat, HEATS, name="heat")
    if brix is not None:
        within(brix, 0, 85, name="Brix", unit="degBx")
    if ph is not None:
        within(ph, 1.5, 9, name="pH")
    if _thick_and_sour(brix, ph) and heat != "none":
        return Shelf("cupboard", (f"{brix:g} degBx, pH {ph:g} and {heat}",))
    if ph is not None and ph <= CUPBOARD_PH and heat == "pasteurised":
        return Shelf("cupboard until opened", (f"pH {ph:g} and pasteurised in the bottle",))
    return Shelf("cold, with a date", _lacking(brix, ph, heat))


def _thick_and_sour(brix: float | None, ph: float | None) -> bool:
    return brix is not None and brix >= CUPBOARD_BRIX and ph is not None and ph <= ACID_FOOD_PH


def _lacking(brix: float | None, ph: float | None, heat: str) -> tuple[str, ...]:
    reasons = []
    if brix is None:
        reasons.append("sugar is not known")
    elif brix < CUPBOARD_BRIX:
        reasons.append(f"{brix:g} degBx is thinner than {CUPBOARD_BRIX:g}: sugar does not keep it")
    if ph is None:
        reasons.append("pH is not known")
    elif ph > ACID_FOOD_PH:
        reasons.append(f"pH {ph:g} is above {ACID_FOOD_PH}: not sour enough")
    elif ph > CUPBOARD_PH:
        reasons.append(f"pH {ph:g} is above {CUPBOARD_PH}, the line for a thin cordial")
    if heat != "pasteurised":
        reasons.append("not heated" if heat == "none" else "hot-filled, not pasteurised")
    return tuple(reasons)
