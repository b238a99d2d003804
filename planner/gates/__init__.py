"""May this step be done? Facts in, verdicts out; pure."""

from planner.gates.before import hold, identity, making_safe, start
from planner.gates.verdict import GO, LOOK_AGAIN, STOP, Reason, Verdict, both
from planner.gates.wine import (
    NEAR_SHARE,
    Limit,
    bottle_still,
    bottle_with_fizz,
    dose,
    place,
    pressure,
    sweet_and_live,
    yeast_in,
)

__all__ = [
    "GO",
    "LOOK_AGAIN",
    "NEAR_SHARE",
    "STOP",
    "Limit",
    "Reason",
    "Verdict",
    "both",
    "bottle_still",
    "bottle_with_fizz",
    "dose",
    "hold",
    "identity",
    "making_safe",
    "place",
    "pressure",
    "start",
    "sweet_and_live",
    "yeast_in",
]
