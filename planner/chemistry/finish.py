"""Where will it stop: dry, or when the yeast has had enough?"""

from dataclasses import dataclass
from functools import lru_cache

from planner.chemistry.alcohol import (
    EXTRACT_RULE,
    HIGHEST_START,
    LOWEST_FINISH,
    alcohol_drop,
    extract_lift,
    real_extract_percent,
)
from planner.chemistry.density import ETHANOL_20, WATER_20
from planner.chemistry.figure import Figure, Rule
from planner.chemistry.gravity import brix_of_gravity
from planner.chemistry.ranges import within
from planner.chemistry.roots import root
from planner.chemistry.sugar import sugar_of_gravity_g_per_l

FINISH_RULE = Rule(
    "extract method, finish",
    EXTRACT_RULE.source,
    "start 1.000 to 1.200, sugar-free extract 0 to 60 g/L",
)
# From memory: real wine carries 15 to 25 g/L of sugar-free extract, mead and thin must less.
USUAL_EXTRACT_G_PER_L = (15.0, 25.0)
# More than a must of 1.200 can give.
HIGHEST_ABV = 40.0


@dataclass(frozen=True, slots=True)
class Finish:
    """A ferment at rest: `extract_g_per_l` is all that is dissolved; dry when sugar ran out."""

    gravity: float
    abv: float
    extract_g_per_l: float
    dry: bool
    rule: Rule = FINISH_RULE


@lru_cache(maxsize=256)
def _all_but(original_brix: float, extract_g_per_l: float) -> Finish:
    """The finish that keeps a given extract."""
    lift = extract_lift(extract_g_per_l)

    def miss(abv: float) -> float:
        density = (lift + alcohol_drop(abv) - 1) * WATER_20
        alcohol = abv * ETHANOL_20 / density
        left = real_extract_percent(original_brix=original_brix, alcohol_percent=alcohol)
        return left - 100 * extract_g_per_l / density

    abv = root(miss, 0.0, HIGHEST_ABV) if miss(0.0) > 0 else 0.0
    return Finish(lift + alcohol_drop(abv) - 1, abv, extract_g_per_l, dry=True)


def _up_to(original_brix: float, abv: float) -> Finish:
    """The finish at a given strength."""
    drop = alcohol_drop(abv)

    def extract_at(gravity: float) -> float:
        density = gravity * WATER_20
        left = real_extract_percent(
            original_brix=original_brix, alcohol_percent=abv * ETHANOL_20 / density
        )
        return left * density / 100

    def miss(gravity: float) -> float:
        return extract_lift(extract_at(gravity)) + drop - 1 - gravity

    gravity = root(miss, LOWEST_FINISH, HIGHEST_START + 0.01)
    return Finish(gravity, abv, extract_at(gravity), dry=False)


def dry_finish(*, start_gravity: float, sugar_free_extract_g_per_l: float = 0.0) -> Finish:
    """The finish when all fermentable sugar is gone.

    `sugar_free_extract_g_per_l` is what the finished wine keeps of the extract that the start
    gravity counted; 0 for sugar and water.
    """
    within(start_gravity, 1.0, HIGHEST_START, name="start gravity")
    within(sugar_free_extract_g_per_l, 0, 60, name="sugar-free extract", unit="g/L")
    held = sugar_of_gravity_g_per_l(gravity=start_gravity)
    return _all_but(brix_of_gravity(gravity=start_gravity), min(held, sugar_free_extract_g_per_l))


def finish_at_strength(
    *, start_gravity: float, abv: float, sugar_free_extract_g_per_l: float = 0.0
) -> Finish:
    """The finish of a yeast that stops at a strength; dry when sugar runs out before that."""
    within(abv, 0, 25, name="strength the yeast bears", unit="% vol")
    driest = dry_finish(
        start_gravity=start_gravity, sugar_free_extract_g_per_l=sugar_free_extract_g_per_l
    )
    if abv >= driest.abv:
        return driest
    return _up_to(brix_of_gravity(gravity=start_gravity), abv)


def expected_finish(
    *,
    start_gravity: float,
    sugar_free_extract_g_per_l: tuple[float, float] = USUAL_EXTRACT_G_PER_L,
    tolerance_abv: float | None = None,
) -> Figure:
    """The finish to expect, between sugar and water alone and the fullest wine."""
    low, high = sugar_free_extract_g_per_l
    bears = 25.0 if tolerance_abv is None else tolerance_abv
    thin, middle, full = (
        finish_at_strength(
            start_gravity=start_gravity, abv=bears, sugar_free_extract_g_per_l=extract
        ).gravity
        for extract in (0.0, (low + high) / 2, high)
    )
    return FINISH_RULE.figure(middle, "SG", low=min(thin, full), high=max(thin, full))
