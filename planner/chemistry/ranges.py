"""Does an input lie where the rule holds?"""

from collections.abc import Iterable
from typing import TypeVar

T = TypeVar("T")


def within(value: float, low: float, high: float, *, name: str, unit: str = "") -> float:
    """Return the value, or raise ValueError that names the range; not-a-number is refused too."""
    if not low <= value <= high:
        span = f"{low:g} to {high:g} {unit}".rstrip()
        raise ValueError(f"{name} must lie within {span}; {value:g} was given")
    return value


def one_of(value: T, choices: Iterable[T], *, name: str) -> T:
    """Return the value, or raise ValueError that lists what may be chosen."""
    known = list(choices)
    if value not in known:
        raise ValueError(f"{name} must be one of {', '.join(map(str, known))}; {value} was given")
    return value
