"""How many whole bottles does each get, by what each brought? Pure."""

from collections.abc import Mapping
from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Share:
    """What somebody is owed exactly, and in whole bottles."""

    name: str
    exact: float
    bottles: int


def shares(bottles: int, parts: Mapping[str, float]) -> list[Share]:
    """Whole bottles by the largest remainders, so that all are given out; ties go to who came first.

    Raises ValueError for a count below nothing, no parts, or a part that is not above nothing.
    """
    if bottles < 0 or not parts:
        raise ValueError("bottles and those who share them are wanted")
    if any(not part > 0 for part in parts.values()):
        raise ValueError("each part must be above nothing")
    whole = sum(parts.values())
    exact = {name: bottles * part / whole for name, part in parts.items()}
    found = {name: int(value + 1e-9) for name, value in exact.items()}
    rest = bottles - sum(found.values())
    by_rest = sorted(exact, key=lambda name: found[name] - exact[name])
    for name in by_rest[:rest]:
        found[name] += 1
    return [Share(name, exact[name], found[name]) for name in parts]
