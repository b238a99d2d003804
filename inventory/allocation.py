"""Which bottles take this volume, when glass, closures and cages are counted?

An exact search: an answer is the best there is by its aim and says so (`proved`); only a house with
very many sizes and parts that hold each other back may end at the best one found in time. Volumes
are whole microlitres.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum

from inventory.fill_search import MOST_BOTTLES, FillSearch, Size

MOST_SIZES = 8


class Aim(StrEnum):
    """What makes one filling better than another."""

    NOTHING_LEFT = "nothing_left"
    FEWEST = "fewest"
    BIGGEST = "biggest"


@dataclass(frozen=True, slots=True)
class FillPlan:
    """How many of each size to fill; `short` is a last bottle not filled whole."""

    counts: dict[str, int]
    left_ul: int
    short: tuple[str, int] | None = None
    proved: bool = True

    @property
    def bottles(self) -> int:
        return sum(self.counts.values()) + (self.short is not None)


@dataclass(frozen=True, slots=True)
class Lack:
    """A part of which more would have been used: a size of bottle, a closure or a cage."""

    part: str
    held: int
    wanted: int


def fill(
    sizes: Sequence[Size],
    *,
    volume_ul: int,
    pools: Mapping[str, int],
    aim: Aim = Aim.NOTHING_LEFT,
    spare_ul: int = 0,
    wished: Mapping[str, int] | None = None,
) -> FillPlan:
    """The best filling by its aim.

    NOTHING_LEFT leaves as little as can be, then uses the fewest bottles. FEWEST uses the fewest
    bottles that leave at most `spare_ul`, then leaves least; where that cannot be, it leaves as
    little as can be. BIGGEST takes the largest size as far as it goes, then the next. `wished`
    sets a number of a size aside first. Raises ValueError where a wish cannot be met.
    """
    _refuse_bad(sizes, volume_ul, pools, spare_ul)
    ordered = sorted(sizes, key=lambda size: (-size.fill_ul, size.key))
    set_aside = _set_aside(ordered, volume_ul, pools, wished or {})
    rest = volume_ul - sum(size.fill_ul * set_aside[size.key] for size in ordered)
    room = [size.held - set_aside[size.key] for size in ordered]
    left_pools = _less(ordered, pools, set_aside)
    counts, proved = _best(ordered, room, left_pools, rest, aim, spare_ul)
    whole = {size.key: set_aside[size.key] + counts[size.key] for size in ordered}
    return replace(_with_short(ordered, whole, pools, volume_ul), proved=proved)


def lacks(
    sizes: Sequence[Size], *, volume_ul: int, pools: Mapping[str, int], plan: FillPlan
) -> list[Lack]:
    """What more would put the rest of the wine in glass, by the largest size that is at hand.

    Empty when the smallest bottle would not go into what is left.
    """
    if not sizes or plan.left_ul < min(size.fill_ul for size in sizes):
        return []
    largest = max(
        (size for size in sizes if size.fill_ul <= plan.left_ul), key=lambda size: size.fill_ul
    )
    more = plan.left_ul // largest.fill_ul
    used = _used(sizes, plan.counts)
    wanted = [(largest.key, largest.held, plan.counts[largest.key] + more)]
    wanted += [(pool, pools.get(pool, 0), used.get(pool, 0) + more) for pool in largest.takes]
    return [Lack(part, held, want) for part, held, want in wanted if want > held]


def _refuse_bad(
    sizes: Sequence[Size], volume_ul: int, pools: Mapping[str, int], spare_ul: int
) -> None:
    if len(sizes) > MOST_SIZES:
        raise ValueError(f"at most {MOST_SIZES} sizes of bottle at once, not {len(sizes)}")
    if len({size.key for size in sizes}) != len(sizes):
        raise ValueError("each size of bottle may be named once")
    if volume_ul < 0 or spare_ul < 0 or min(pools.values(), default=0) < 0:
        raise ValueError("volumes and counts are never below zero")


def _set_aside(
    sizes: Sequence[Size], volume_ul: int, pools: Mapping[str, int], wished: Mapping[str, int]
) -> dict[str, int]:
    unknown = set(wished) - {size.key for size in sizes}
    if unknown:
        raise ValueError(f"no such size of bottle here: {', '.join(sorted(unknown))}")
    chosen = {size.key: wished.get(size.key, 0) for size in sizes}
    for size in sizes:
        if chosen[size.key] > size.held:
            raise ValueError(f"{chosen[size.key]} of {size.key} wished, {size.held} are there")
    for pool, used in _used(sizes, chosen).items():
        if used > pools.get(pool, 0):
            raise ValueError(f"the wish takes {used} of {pool}, {pools.get(pool, 0)} are there")
    wanted = sum(size.fill_ul * chosen[size.key] for size in sizes)
    if wanted > volume_ul:
        raise ValueError(f"the wish takes {wanted / 1e6:g} L of {volume_ul / 1e6:g} L")
    return chosen


def _used(sizes: Sequence[Size], counts: Mapping[str, int]) -> dict[str, int]:
    used: dict[str, int] = {}
    for size in sizes:
        for pool in size.takes:
            used[pool] = used.get(pool, 0) + counts.get(size.key, 0)
    return used


def _less(
    sizes: Sequence[Size], pools: Mapping[str, int], counts: Mapping[str, int]
) -> dict[str, int]:
    used = _used(sizes, counts)
    named = {pool for size in sizes for pool in size.takes}
    return {pool: pools.get(pool, 0) - used.get(pool, 0) for pool in sorted(named)}


def _best(
    sizes: Sequence[Size],
    room: list[int],
    pools: dict[str, int],
    rest_ul: int,
    aim: Aim,
    spare_ul: int,
) -> tuple[dict[str, int], bool]:
    if aim is Aim.BIGGEST:
        return _biggest_first(sizes, room, pools, rest_ul), True
    if aim is Aim.FEWEST:
        found, proved = FillSearch(sizes, room, pools, spare_ul=spare_ul).best(rest_ul)
        if found is not None:
            return found, proved
    return FillSearch(sizes, room, pools, spare_ul=None).best(rest_ul)


def _biggest_first(
    sizes: Sequence[Size], room: list[int], pools: dict[str, int], rest_ul: int
) -> dict[str, int]:
    counts, left = {}, dict(pools)
    for size, held in zip(sizes, room, strict=True):
        counts[size.key] = min(
            held, rest_ul // size.fill_ul, *(left[pool] for pool in size.takes), MOST_BOTTLES
        )
        rest_ul -= counts[size.key] * size.fill_ul
        for pool in size.takes:
            left[pool] -= counts[size.key]
    return counts


def _with_short(
    sizes: Sequence[Size], counts: dict[str, int], pools: Mapping[str, int], volume_ul: int
) -> FillPlan:
    """The filling, with what is left in one more bottle where a size allows so little."""
    left = volume_ul - sum(size.fill_ul * counts[size.key] for size in sizes)
    spare = _less(sizes, pools, counts)
    for size in reversed(sizes):
        fits = size.least_ul is not None and size.least_ul <= left < size.fill_ul
        if fits and counts[size.key] < size.held and all(spare[p] > 0 for p in size.takes):
            return FillPlan(counts, 0, (size.key, left))
    return FillPlan(counts, left)
