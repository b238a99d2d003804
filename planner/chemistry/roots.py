"""Where does a steady function pass through zero?"""

from collections.abc import Callable

STEPS = 200


def root(
    function: Callable[[float], float], low: float, high: float, *, width: float = 1e-13
) -> float:
    """Find x between low and high with function(x) = 0 (Illinois form of the false position).

    Raises ValueError when the function has the same sign at both ends.
    """
    at_low, at_high = function(low), function(high)
    if at_low == 0:
        return low
    if at_high == 0:
        return high
    if (at_low > 0) == (at_high > 0):
        raise ValueError(f"no answer between {low:g} and {high:g}")
    for _ in range(STEPS):
        middle = high - at_high * (high - low) / (at_high - at_low)
        at_middle = function(middle)
        # The far end's weight is halved when it stays, so that neither end gets stuck.
        if (at_middle > 0) == (at_high > 0):
            at_low /= 2
        else:
            low, at_low = high, at_high
        moved = abs(middle - high)
        high, at_high = middle, at_middle
        if at_middle == 0 or moved < width * max(1.0, abs(middle)):
            return middle
    return high
