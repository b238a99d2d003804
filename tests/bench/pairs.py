"""How much slower is one way than another, on a machine whose milliseconds wobble?"""

import gc
import statistics
import time
from collections.abc import Callable
from typing import NamedTuple


class Ratio(NamedTuple):
    """Median and quartiles of candidate time over floor time, and the median times in seconds."""

    median: float
    lower: float
    upper: float
    floor: float
    candidate: float


def pair(
    floor: Callable[[], object],
    candidate: Callable[[], object],
    pairs: int = 15,
    *,
    clock: Callable[[], float] = time.perf_counter,
) -> Ratio:
    """Run the two in turn in one process, order swapped each time; print and return the ratio.

    Work that never waits may take time.process_time as its clock, which a busy machine disturbs less.
    """
    floor()
    candidate()
    gc.collect()
    gc.freeze()
    times = [_both(floor, candidate, clock, swapped=n % 2 == 1) for n in range(pairs)]
    gc.unfreeze()

    lower, median, upper = statistics.quantiles((slow / fast for fast, slow in times), n=4)
    fast, slow = (statistics.median(column) for column in zip(*times, strict=True))
    print(
        f"ratio {median:.2f} (quartiles {lower:.2f} to {upper:.2f}, {pairs} pairs; "
        f"floor {fast * 1000:.2f} ms, candidate {slow * 1000:.2f} ms)"
    )
    return Ratio(median, lower, upper, fast, slow)


def _both(
    floor: Callable[[], object],
    candidate: Callable[[], object],
    clock: Callable[[], float],
    *,
    swapped: bool,
) -> tuple[float, float]:
    if swapped:
        slow = _seconds(candidate, clock)
        return _seconds(floor, clock), slow
    return _seconds(floor, clock), _seconds(candidate, clock)


def _seconds(work: Callable[[], object], clock: Callable[[], float]) -> float:
    start = clock()
    work()
    return clock() - start
