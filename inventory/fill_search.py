"""The exact search behind a filling: how many of each size of bottle leave least, or take fewest.

Volumes are whole microlitres."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import gcd

MOST_BOTTLES = 5_000
MOST_STATES = 3_000


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


class FillSearch:
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
