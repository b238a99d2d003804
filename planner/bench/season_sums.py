"""How warm has it been, and when was that enough?"""

from collections.abc import Mapping
from typing import Any

from planner.bench.asks import NUMBERS, Answer, Ask, Line, Sum
from planner.chemistry.figure import Rule
from planner.phenology.warmth import Method, day_passed, warmth_of

Values = Mapping[str, Any]
WARMTH_RULE = Rule(
    "degree-days of daily means",
    "Arnold 1960; the simple average",
    "daily means in °C; a threshold holds for the method that it was found by",
)


def _warmth(values: Values) -> Answer:
    means, base = values["means"], values["base"]
    whole = warmth_of([(mean, mean) for mean in means], base_c=base, method=Method.AVERAGE)
    lines = [Line("In all", WARMTH_RULE.figure(whole, "degree-days"), main=True)]
    if values["threshold"] is None:
        return Answer(tuple(lines))
    if whole < values["threshold"]:
        return Answer(tuple(lines), ("These days do not reach it.",))
    day, total = day_passed(means, base_c=base, threshold=values["threshold"])
    reached = [
        Line("Reached on day", WARMTH_RULE.figure(day, "day"), main=True),
        Line("The sum then", WARMTH_RULE.figure(total, "degree-days")),
    ]
    return Answer((*reached, *lines))


WARMTH = Sum(
    "warmth",
    "Warm enough",
    "Degree-days of a row of days, and the day on which they reach a threshold.",
    (
        Ask(
            "means",
            "Daily means, °C",
            NUMBERS,
            low=-60,
            high=60,
            help="With blanks between, the first day first, for example 11 12 14.",
        ),
        Ask("base", "Counted over, °C", low=-10, high=30, initial="5", named="The base"),
        Ask("threshold", "Threshold, degree-days", low=0.1, high=10_000, required=False),
    ),
    _warmth,
    words="degree days growing heat sum phenology thermal time season",
)

SUMS = (WARMTH,)
