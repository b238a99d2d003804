"""Points to the path of a line, of steps and of a band, in percent across and down."""

from collections.abc import Sequence
from itertools import pairwise

from inventory.pictures.drawing import coordinate
from inventory.pictures.scale import Scale, Value, number

Points = Sequence[tuple[Value, float]]


def line(points: Points, across: Scale, up: Scale) -> str:
    return "M" + " L".join(_pairs(points, across, up))


def band(lower: Points, upper: Points, across: Scale, up: Scale) -> str:
    there, back = _pairs(lower, across, up), _pairs(upper, across, up)
    return "M" + " L".join([*there, *back[::-1]]) + "Z"


def steps(points: Points, across: Scale, up: Scale) -> str:
    """Each value holds until the next: the one before the left edge from there, the last to the right."""
    _check(points, up)
    before = [point for point in points if number(point[0]) <= across.low][-1:]
    within = [point for point in points if across.low < number(point[0]) <= across.high]
    pairs = [(_x(at, across), _y(value, up)) for at, value in (*before, *within)]
    (x, y), *rest = pairs or [("0", _y(0, up))]
    return f"M{x} {y}" + "".join(f"H{x}V{y}" for x, y in rest) + "H100"


def _pairs(points: Points, across: Scale, up: Scale) -> list[str]:
    _check(points, up)
    if not all(across.holds(at) for at, _ in points):
        raise ValueError(f"A point lies outside the axis from {across.low} to {across.high}.")
    return [f"{_x(at, across)} {_y(value, up)}" for at, value in points]


def _x(at: Value, across: Scale) -> str:
    return coordinate(across.at(at))


def _y(value: float, up: Scale) -> str:
    return coordinate(100 - up.at(value))


def _check(points: Points, up: Scale) -> None:
    if any(number(later[0]) < number(sooner[0]) for sooner, later in pairwise(points)):
        raise ValueError("The points of a line go from left to right.")
    if not all(up.holds(value) for _, value in points):
        raise ValueError(f"A value lies outside the axis from {up.low} to {up.high}.")
