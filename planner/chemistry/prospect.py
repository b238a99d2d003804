"""What may this must become: finish, strength and sugar left, each as a range?"""

from dataclasses import dataclass
from itertools import product

from planner.chemistry.alcohol import EXTRACT_RULE, HIGHEST_START, extract_lift, potential_abv
from planner.chemistry.figure import Figure, Rule
from planner.chemistry.finish import (
    FINISH_RULE,
    USUAL_EXTRACT_G_PER_L,
    Finish,
    dry_finish,
    finish_at_strength,
)
from planner.chemistry.ranges import within
from planner.chemistry.sugar import hexose_of_sucrose, sugar_of_gravity_g_per_l
from planner.chemistry.sums import bounds
from planner.chemistry.sweetness import sweetness

PROSPECT_RULE = Rule(
    "finish between sugar alone and the fullest wine",
    f"{EXTRACT_RULE.source}; 18 g/L of hexose for each % vol in open ferments, from memory",
    "start 1.000 to 1.200; yeast that is fed and kept within its warmth",
)
# From memory, EU oenology: the poorest yield, in open, hot or pulp ferments.
POOREST_G_PER_L_PER_PERCENT = 18.0


@dataclass(frozen=True, slots=True)
class Prospect:
    """Finish, strength and sugar left; `words` from driest to sweetest, never without the grams."""

    finish: Figure
    strength: Figure
    sugar_left: Figure
    words: tuple[str, ...]
    rule: Rule = PROSPECT_RULE


@dataclass(frozen=True, slots=True)
class _Case:
    finish: Finish
    sugar_left_g_per_l: float


def _case(
    start_gravity: float, extract_g_per_l: float, bears: float | None, *, counted: bool
) -> _Case:
    """One end of the range; `counted` when the start was read with its extract in it."""
    start = start_gravity
    if not counted:
        start = min(HIGHEST_START, start + extract_lift(extract_g_per_l) - 1)
    if bears is None:
        end = dry_finish(start_gravity=start, sugar_free_extract_g_per_l=extract_g_per_l)
    else:
        end = finish_at_strength(
            start_gravity=start, abv=bears, sugar_free_extract_g_per_l=extract_g_per_l
        )
    return _Case(end, max(0.0, end.extract_g_per_l - extract_g_per_l))


def _figure(values: list[float], middle: float, unit: str, *, low: float | None = None) -> Figure:
    least = min(values) if low is None else low
    return PROSPECT_RULE.figure(middle, unit, low=least, high=max(values))


def prospect(
    gravity: Figure,
    *,
    tolerance_abv: tuple[float, float] | None = None,
    extract_g_per_l: tuple[float, float] = USUAL_EXTRACT_G_PER_L,
) -> Prospect:
    """Where a must of this start gravity may end.

    Sugar-free extract runs from none to the high end; the yeast's tolerance from its low to its
    high. A measured start holds its extract already, one worked out from sugar does not.
    """
    if not gravity.is_known:
        return _unknown_prospect()
    within(gravity.value, 1.0, HIGHEST_START, name="start gravity")
    bears = tolerance_abv or (None,)
    counted = gravity.known == "measured"
    starts = sorted({max(1.0, start) for start in (*bounds(gravity), gravity.value)})
    cases = [
        _case(start, extract, most, counted=counted)
        for start, extract, most in product(starts, (0.0, extract_g_per_l[1]), bears)
    ]
    middle = _case(
        gravity.value,
        sum(extract_g_per_l) / 2,
        None if tolerance_abv is None else sum(tolerance_abv) / 2,
        counted=counted,
    )
    cases.append(middle)
    return _told(cases, middle, starts[0])


def _told(cases: list[_Case], middle: _Case, lowest_start: float) -> Prospect:
    strengths = [case.finish.abv for case in cases]
    hexose = hexose_of_sucrose(sucrose_g_per_l=sugar_of_gravity_g_per_l(gravity=lowest_start))
    poorest = potential_abv(hexose_g_per_l=hexose, g_per_l_per_percent=POOREST_G_PER_L_PER_PERCENT)
    sugars = [case.sugar_left_g_per_l for case in cases]
    words = dict.fromkeys(sweetness(sugar_g_per_l=sugar).word for sugar in sorted(sugars))
    return Prospect(
        finish=_figure([case.finish.gravity for case in cases], middle.finish.gravity, "SG"),
        strength=_figure(strengths, middle.finish.abv, "% vol", low=min(poorest, *strengths)),
        sugar_left=_figure(sugars, middle.sugar_left_g_per_l, "g/L"),
        words=tuple(words),
    )


def _unknown_prospect() -> Prospect:
    return Prospect(
        finish=FINISH_RULE.unknown("SG"),
        strength=PROSPECT_RULE.unknown("% vol"),
        sugar_left=PROSPECT_RULE.unknown("g/L"),
        words=(),
    )
