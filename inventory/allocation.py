"""Which bottles take this volume, when glass, closures and cages are counted?

An exact search: an answer is the best there is by its aim and says so (`proved`); only a house with
very many sizes and parts that hold each other back may end at the best one found in time. Volumes
are whole microlitres.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from enum import StrEnum
from math import gcd

MOST_SIZES = 8
MOST_BOTTLES = 5_000
MOST_STATES = 3_000


class Aim(StrEnum):
    """What makes one filling better than another."""

    NOTHING_LEFT = "nothing_left"
    FEWEST = "fewest"
    BIGGEST = "biggest"


@dataclass(frozen=True, slots=True)
class Size:
    """A size of bottle: what goes in, how many stand clean, and what each one takes besides.

    `takes` names the pools (a closure, a cage) of which a bottle needs one each. `least_ul` is how
    little the last bottle may hold; none means that it is filled or not used.
    """

    key: str
    fill_ul: int
    held: int
    takes: tuple[str, ...] = ()
    least_ul: int | None = None

    def __post_init__(self) -> None:
        if self.fill_ul < 1:
            raise ValueError(f"{self.key}: a bottle must hold something")
        if not 0 <= self.held <= MOST_BOTTLES:
            raise ValueError(f"{self.key}: 0 to {MOST_BOTTLES} bottles, not {self.held}")
        if self.least_ul is not None and not 0 < self.least_ul <= self.fill_ul:
            raise ValueError(f"{self.key}: the least fill must lie between 0 and the fill")


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
        found, proved = _Search(sizes, room, pools, spare_ul=spare_ul).best(rest_ul)
        if found is not None:
            return found, proved
    return _Search(sizes, room, pools, spare_ul=None).best(rest_ul)


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


class _Search:
    """Depth first over the sizes, largest first; each state is answered once.

    Without `spare_ul` an answer is judged by (left, bottles), with it by (bottles, left).
    """

    def __init__(
        self,
        sizes: Sequence[Size],
        room: list[int],
        pools: dict[str, int],
        *,
        spare_ul: int | None,
    ) -> None:
        self.sizes, self.spare_ul = sizes, spare_ul
        self.names = list(pools)
        self.start = tuple(pools.values())
        self.takes = [[self.names.index(pool) for pool in size.takes] for size in sizes]
        self.room = [
            min([held, *(self.start[p] for p in takes)])
            for held, takes in zip(room, self.takes, strict=True)
        ]
        self.unit = gcd(*(size.fill_ul for size in sizes)) or 1
        self.known: dict[tuple, tuple[tuple[int, int], int] | None] = {}
        self.proved = True

    def best(self, rest_ul: int) -> tuple[dict[str, int] | None, bool]:
        """How many of each size, and whether nothing can be better; none: too much is left over."""
        self.reach = self._reachable(rest_ul // self.unit)
        if self._answer(0, rest_ul, self.start) is None:
            return None, self.proved
        counts, pools = {}, self.start
        for n, size in enumerate(self.sizes):
            _, count = self._answer(n, rest_ul, pools)
            counts[size.key] = count
            rest_ul -= count * size.fill_ul
            pools = self._after(n, pools, count)
        return counts, self.proved

    def _reachable(self, most: int) -> list[int]:
        """For the sizes from each on, the volumes that can be filled, as bits of one number."""
        mask, bits = (1 << most + 1) - 1, 1
        reach = [bits]
        for size, held in zip(reversed(self.sizes), reversed(self.room), strict=True):
            step, left, chunk = size.fill_ul // self.unit, min(held, most), 1
            while left:
                taken = min(chunk, left)
                bits |= (bits << step * taken) & mask
                left -= taken
                chunk *= 2
            reach.append(bits)
        return reach[::-1]

    def _answer(self, n: int, rest: int, pools: tuple) -> tuple[tuple[int, int], int] | None:
        if n == len(self.sizes):
            within = self.spare_ul is None or rest <= self.spare_ul
            return (self._score(rest, 0), 0) if within else None
        key = (n, rest, self._felt(n, rest, pools))
        if key not in self.known:
            self.known[key] = self._search(n, rest, pools)
        return self.known[key]

    def _search(self, n: int, rest: int, pools: tuple) -> tuple[tuple[int, int], int] | None:
        size = self.sizes[n]
        limits = [self.room[n], rest // size.fill_ul, *(pools[p] for p in self.takes[n])]
        found = None
        for count in range(min(limits), -1, -1):
            after = rest - count * size.fill_ul
            hope = self._hope(n + 1, after, count)
            if hope is None or (found is not None and hope >= found[0]):
                continue
            if found is not None and len(self.known) > MOST_STATES:
                self.proved = False
                break
            answer = self._answer(n + 1, after, self._after(n, pools, count))
            if answer is None:
                continue
            score = self._more(answer[0], count)
            if found is None or score < found[0]:
                found = (score, count)
        return found

    def _score(self, left: int, bottles: int) -> tuple[int, int]:
        return (left, bottles) if self.spare_ul is None else (bottles, left)

    def _more(self, score: tuple[int, int], count: int) -> tuple[int, int]:
        first, second = score
        return (first, second + count) if self.spare_ul is None else (first + count, second)

    def _hope(self, n: int, rest: int, count: int) -> tuple[int, int] | None:
        """No answer from here on can be better; none where too much must be left over."""
        whole = rest // self.unit
        filled = (self.reach[n] & ((1 << whole + 1) - 1)).bit_length() - 1
        left = rest - filled * self.unit
        if self.spare_ul is None:
            return left, count + self._least_bottles(n, rest - left)
        if left > self.spare_ul:
            return None
        return count + self._least_bottles(n, rest - self.spare_ul), left

    def _least_bottles(self, n: int, volume: int) -> int:
        """Bottles that a volume takes at least, the largest first and parts of one allowed."""
        bottles = 0
        for size, held in zip(self.sizes[n:], self.room[n:], strict=True):
            if volume <= 0:
                break
            taken = min(held, -(-volume // size.fill_ul))
            bottles += taken
            volume -= taken * size.fill_ul
        return bottles

    def _after(self, n: int, pools: tuple, count: int) -> tuple:
        if not count:
            return pools
        return tuple(left - count * (p in self.takes[n]) for p, left in enumerate(pools))

    def _felt(self, n: int, rest: int, pools: tuple) -> tuple:
        """The pools as far as they can bind from here on, so that like states are one."""
        felt = []
        for p, left in enumerate(pools):
            most = sum(
                min(self.room[m], rest // self.sizes[m].fill_ul)
                for m in range(n, len(self.sizes))
                if p in self.takes[m]
            )
            felt.append(min(left, most))
        return tuple(felt)


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
