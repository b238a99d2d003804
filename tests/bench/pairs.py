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


def pair(floor: Callable[[], object], candidate: Callable[[], object], pairs: int = 15) -> Ratio:
    """Run the two in turn in one process, order swapped each time; print and return the ratio."""
    floor()
    candidate()
    gc.collect()
    gc.freeze()
    times = [_both(floor, candidate, swapped=number % 2 == 1) for number in range(pairs)]
    gc.unfreeze()

    lower, median, upper = statistics.quantiles((slow / fast for fast, slow in times), n=4)
    fast, slow = (statistics.median(column) for column in zip(*times, strict=True))
    print(
        f"ratio {median:.2f} (quartiles {lower:.2f} to {upper:.2f}, {pairs} pairs; "
        f"floor {fast * 1000:.2f} ms, candidate {slow * 1000:.2f} ms)"
    )
    return Ratio(median, lower, upper, fast, slow)


def _both(
    floor: Callable[[], object], candidate: Callable[[], object], *, swapped: bool
) -> tuple[float, float]:
    if swapped:
        slow = _seconds(candidate)
        return _seconds(floor), slow
    return _seconds(floor), _seconds(candidate)


def _seconds(work: Callable[[], object]) -> float:
    start = time.perf_counter()
    work()
    return time.perf_counter() - start
