"""Which bottles a volume fills."""

from collections.abc import Mapping
from typing import Any

from inventory import allocation
from planner.bench.asks import COUNTS, SIZES, Answer, Ask, Line, Sum, choice, litres
from planner.chemistry.figure import Figure, Rule

Values = Mapping[str, Any]
UL_PER_L, ML_PER_L = 1_000_000, 1000
FILL_RULE = Rule(
    "the best filling by its aim, all of them tried",
    "an exact search; no source but the sum of the fills",
    "whole bottles; what stays on the lees or in the hose is taken off beforehand",
)


def _bottles(values: Values) -> Answer:
    sizes = _sizes(values["sizes"], values["counts"], values["volume"])
    plan = allocation.fill(
        sizes,
        volume_ul=round(values["volume"] * UL_PER_L),
        pools={},
        aim=allocation.Aim(values["aim"]),
        spare_ul=round((values["spare"] or 0) * UL_PER_L),
    )
    lines = [
        Line(f"Bottles of {size.key}", _bottle_count(plan.counts[size.key]), main=True)
        for size in sizes
        if plan.counts[size.key]
    ]
    lines.append(Line("In all", _bottle_count(plan.bottles)))
    lines.append(Line("Left over", FILL_RULE.figure(plan.left_ul / ML_PER_L, "mL")))
    proof = "" if plan.proved else "The best found in time; there may be a better one."
    return Answer(tuple(lines), (proof,) if proof else ())


def _bottle_count(count: int) -> Figure:
    return FILL_RULE.figure(count, "bottle" if count == 1 else "bottles")


def _sizes(
    litres_each: list[float], counts: list[int] | None, volume: float
) -> list[allocation.Size]:
    if counts is not None and len(counts) != len(litres_each):
        raise ValueError(
            f"how many there are: {len(counts)} numbers stand beside {len(litres_each)} sizes"
        )
    enough = [int(volume / size) + 1 for size in litres_each]
    return [
        allocation.Size(f"{ML_PER_L * size:g} mL", round(size * UL_PER_L), held)
        for size, held in zip(litres_each, counts or enough, strict=True)
    ]


BOTTLES = Sum(
    "bottles",
    "How many bottles",
    "Which bottles a volume fills, and what is left over.",
    (
        litres("volume", "To be filled"),
        Ask("sizes", "Bottle sizes", SIZES, help="For example 750 mL, 375 mL.", named="each size"),
        Ask(
            "counts",
            "How many there are of each",
            COUNTS,
            required=False,
            help="In the same order, for example 22, 1. Empty: enough of each.",
            named="how many there are",
        ),
        choice(
            "aim",
            "What matters",
            {
                allocation.Aim.NOTHING_LEFT.value: "as little left over as can be",
                allocation.Aim.FEWEST.value: "the fewest bottles",
                allocation.Aim.BIGGEST.value: "the biggest first",
            },
        ),
        litres(
            "spare",
            "May be left over, for the fewest bottles",
            required=False,
            help="For example 150 mL.",
        ),
    ),
    _bottles,
    words="bottles fill plan sizes glass allocation",
)

SUMS = (BOTTLES,)
