"""How many bottles can really be filled and shut, and which part is missing for more?"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True)
class Bottle:
    """Bottles of one kind, by state, and the mouth they have."""

    key: int
    finish: str
    clean: int
    dirty: int = 0


@dataclass(frozen=True, slots=True)
class Closure:
    """Closures of one kind; `fits` are the mouths they shut."""

    key: int
    fits: frozenset[str]
    held: int
    needs_cage: bool = False


@dataclass(frozen=True, slots=True)
class Missing:
    """So many more of a part would let every bottle be used: `part` is closure, cage or bottle."""

    part: str
    count: int


@dataclass(frozen=True, slots=True)
class Usable:
    """Sets of one kind of bottle, as if all parts went to it: now, and once the dirty are washed."""

    key: int
    now: int
    washed: int
    missing: tuple[Missing, ...]


def usable(
    bottles: Sequence[Bottle], closures: Sequence[Closure], *, cages: int
) -> dict[int, Usable]:
    """For each kind of bottle how many sets there are; parts that several kinds share count for each.

    A bottle that no closure fits has no set, whatever is on the shelf.
    """
    return {bottle.key: _usable(bottle, closures, cages) for bottle in bottles}


def _usable(bottle: Bottle, closures: Sequence[Closure], cages: int) -> Usable:
    fitting = [closure for closure in closures if bottle.finish in closure.fits]
    plain = sum(closure.held for closure in fitting if not closure.needs_cage)
    caged = sum(closure.held for closure in fitting if closure.needs_cage)
    shut = plain + min(caged, cages)
    whole = bottle.clean + bottle.dirty
    return Usable(
        bottle.key,
        min(bottle.clean, shut),
        min(whole, shut),
        tuple(_missing(whole, plain, caged, cages, bool(fitting))),
    )


def _missing(
    bottles: int, plain: int, caged: int, cages: int, is_fitted: bool
) -> Iterable[Missing]:
    """What stands between the bottles there are and sets of them; a bottle, if parts are left."""
    if not is_fitted:
        yield Missing("closure that fits", bottles)
        return
    closures = plain + caged
    if closures < bottles:
        yield Missing("closure", bottles - closures)
    wanted_cages = min(caged, max(0, bottles - plain))
    if cages < wanted_cages:
        yield Missing("cage", wanted_cages - cages)
    spare = plain + min(caged, cages) - bottles
    if spare > 0:
        yield Missing("bottle", spare)


@dataclass(frozen=True, slots=True)
class Change:
    """So many of a part more or fewer from a month on: bought, wanted by a bottling, or drunk empty."""

    month: int
    part: tuple[str, int]
    count: int


def by_month(
    bottles: Sequence[Bottle],
    closures: Sequence[Closure],
    *,
    cages: int,
    changes: Iterable[Change],
    months: int,
) -> list[dict[int, Usable]]:
    """The sets at the end of each month, from the first (0) on; what is wanted but not there is owed.

    A part is ("bottle", key), ("closure", key) or ("cage", 0). Bottles that come back count as
    washed by the end of the month.
    """
    running: dict[tuple[str, int], int] = {("bottle", each.key): each.clean for each in bottles}
    running |= {("closure", each.key): each.held for each in closures}
    running["cage", 0] = cages
    due: dict[int, dict[tuple[str, int], int]] = {}
    for change in changes:
        if change.part in running and change.month < months:
            month = due.setdefault(max(change.month, 0), {})
            month[change.part] = month.get(change.part, 0) + change.count
    answers = []
    for month in range(months):
        for part, count in due.get(month, {}).items():
            running[part] += count
        answers.append(_month(bottles, closures, running))
    return answers


def _month(
    bottles: Sequence[Bottle],
    closures: Sequence[Closure],
    running: Mapping[tuple[str, int], int],
) -> dict[int, Usable]:
    held_bottles = [replace(each, clean=max(0, running["bottle", each.key])) for each in bottles]
    held_closures = [replace(each, held=max(0, running["closure", each.key])) for each in closures]
    return usable(held_bottles, held_closures, cages=max(0, running["cage", 0]))
