"""Which vessels take this volume, filled to the neck, with the least topping up? Pure.

Volumes are whole microlitres.
"""

from collections import Counter
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

MOST_VOLUME = 10_000_000_000
# Beyond so many different sums the best found so far is taken, and said not to be proved.
MOST_SUMS = 100_000


@dataclass(frozen=True, slots=True)
class Fit:
    """How many of each size to use, largest first, what goes into the last, and what tops it up."""

    counts: tuple[tuple[int, int], ...]
    in_last: int
    top_up: int
    proved: bool = True

    @property
    def vessels(self) -> int:
        return sum(count for _, count in self.counts)


def fit(sizes: Sequence[int], volume: int) -> Fit | None:
    """The vessels that hold all of it with the least room left over, then the fewest of them.

    Each of `sizes` is one vessel's brimful. The smallest of those used is the one that stays short of
    its neck. None where all together hold too little. Raises ValueError for a volume that is not above
    nothing, or a size below one.
    """
    if not 0 < volume <= MOST_VOLUME or any(size < 1 for size in sizes):
        raise ValueError("a volume and a vessel must be above nothing")
    if sum(sizes) < volume:
        return None
    best, proved = _sums(Counter(sizes), volume)
    total, counts = best
    used = tuple(sorted(((s, n) for s, n in counts.items() if n), reverse=True))
    room = total - volume
    last = used[-1][0]
    return Fit(used, last - room, room, proved)


def _sums(sizes: Mapping[int, int], volume: int) -> tuple[tuple[int, dict[int, int]], bool]:
    """The least sum of vessels that is not below the volume, with the fewest of them."""
    ways: dict[int, tuple[int, dict[int, int]]] = {0: (0, {})}
    proved = True
    enough: dict[int, tuple[int, dict[int, int]]] = {}
    for size, held in sorted(sizes.items(), reverse=True):
        more: dict[int, tuple[int, dict[int, int]]] = {}
        for total, (count, used) in ways.items():
            for n in range(1, held + 1):
                reached = total + n * size
                found = (count + n, used | {size: n})
                target = enough if reached >= volume else more
                if reached not in target or found[0] < target[reached][0]:
                    target[reached] = found
                if reached >= volume:
                    break
        for total, found in more.items():
            if total not in ways or found[0] < ways[total][0]:
                ways[total] = found
        if len(ways) > MOST_SUMS:
            proved = False
            ways = dict(sorted(ways.items(), reverse=True)[:MOST_SUMS])
    # A set in which even the smallest would stand empty holds one vessel too many, and is never least.
    total = min(enough)
    return (total, enough[total][1]), proved
