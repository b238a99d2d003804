"""How full is a bottle filled, how long a cork, and how far does the wine rise when warm?"""

import math
from dataclasses import dataclass

from planner.chemistry.density import ALCOHOL_RULE, alcohol_of_abv_kg_per_m3
from planner.chemistry.figure import Rule, follows
from planner.chemistry.ranges import one_of, within

NECK_RULE = Rule(
    "neck above the fill mark",
    "EN 12726 finish, bore 18.5 mm widening to about 20 mm; cork-industry note for 75 cl",
    "cork-finish bottles, mark 40 to 80 mm below the brim; within 0.1 cl",
)
CORK_RULE = Rule(
    "longest common cork that leaves 17 mm",
    'cork-maker newsletter 2018 ("20-20 rule", 17 mm head space at 20 degC)',
    "still wine, fill level 55 to 80 mm below the brim",
)
RISE_RULE = Rule("thermal rise", ALCOHOL_RULE.source, "0 to 40 degC, sugar not counted")
TOLERANCE_RULE = Rule(
    "fill tolerance", "27 CFR 24.255(b)", "0.375, 0.75 and 1.0 to 14.9 L, United States"
)

# EN 12726 (CETIE guide 1): bore at the mouth, and the mean further down, in mm.
CORK_BORE_MM = 18.5
MEAN_BORE_MM = 20.0
# Cork-maker newsletter 2018.
CORK_LENGTHS_MM = (38, 45, 49)
HEAD_SPACE_MM = 17.0


@dataclass(frozen=True, slots=True)
class Rise:
    """How much a warm wine swells, and how far it climbs in the neck."""

    volume_ml: float
    height_mm: float
    rule: Rule = RISE_RULE


def _column_ml(bore_mm: float, height_mm: float) -> float:
    return math.pi / 4 * bore_mm**2 * height_mm / 1000


@follows(NECK_RULE, unit="cl")
def brimful_cl(*, nominal_cl: float, mark_mm: float) -> float:
    """Brimful capacity of a cork-finish bottle that holds its nominal at `mark_mm` below the brim."""
    within(mark_mm, 40, 80, name="fill mark", unit="mm")
    within(nominal_cl, 18, 300, name="nominal capacity", unit="cl")
    return nominal_cl + _column_ml(MEAN_BORE_MM, mark_mm) / 10


@follows(CORK_RULE, unit="mm")
def cork_length_mm(*, fill_level_mm: float) -> float:
    """The longest common cork that still leaves head space under it."""
    within(fill_level_mm, CORK_LENGTHS_MM[0] + HEAD_SPACE_MM, 80, name="fill level", unit="mm")
    return float(max(cork for cork in CORK_LENGTHS_MM if cork + HEAD_SPACE_MM <= fill_level_mm))


def thermal_rise(
    *, volume_ml: float, abv: float, from_c: float, to_c: float, bore_mm: float = CORK_BORE_MM
) -> Rise:
    """Swelling of a wine between two temperatures, and the rise in the neck."""
    within(bore_mm, 10, 60, name="bore", unit="mm")
    before, after = (
        alcohol_of_abv_kg_per_m3(abv=abv, temperature_c=temperature)
        for temperature in (from_c, to_c)
    )
    swelling_ml = volume_ml * (before / after - 1)
    return Rise(swelling_ml, swelling_ml / _column_ml(bore_mm, 1.0))


@follows(TOLERANCE_RULE, unit="%")
def us_fill_tolerance_percent(*, nominal_l: float) -> float:
    """How far a fill may stray from the nominal in the United States."""
    if 1.0 <= nominal_l <= 14.9:
        return 1.5
    limits = {0.75: 2.0, 0.375: 3.0}
    one_of(nominal_l, limits, name="nominal capacity in L, below 1")
    return limits[nominal_l]
