"""How do figures add up and carry over, so that a range stays a range and unknown unknown?"""

from collections.abc import Callable, Iterable

from planner.chemistry.figure import Figure, Rule


def bounds(figure: Figure) -> tuple[float | None, float | None]:
    """Least and greatest a figure may be; a value without a range is both."""
    low = figure.value if figure.low is None else figure.low
    high = figure.value if figure.high is None else figure.high
    return low, high


def total(parts: Iterable[tuple[str, float, Figure]], *, unit: str, rule: Rule) -> Figure:
    """Sum of weight x figure over named parts; one unknown part leaves the sum unknown.

    An unknown part still bounds the sum: at least the rest, at most with its own high.
    """
    parts = list(parts)
    source = "; ".join(f"{name}: {figure.known}" for name, _, figure in parts)
    lows = [weight * (bounds(figure)[0] or 0.0) for _, weight, figure in parts]
    highs = [
        None if bounds(figure)[1] is None else weight * bounds(figure)[1]
        for _, weight, figure in parts
    ]
    low, high = sum(lows), None if None in highs else sum(highs)
    if any(not figure.is_known and weight for _, weight, figure in parts):
        return Figure(None, unit, "not known", rule.name, source, low, high, rule.validity)
    value = sum(weight * figure.value for _, weight, figure in parts if weight)
    if not any(figure.low is not None or figure.high is not None for _, _, figure in parts):
        low = high = None
    return Figure(value, unit, "worked out", rule.name, source, low, high, rule.validity)


def carried(figure: Figure, change: Callable[[float], float], *, unit: str, rule: Rule) -> Figure:
    """The same figure through a steady function; its bounds go through too."""
    value, low, high = (
        None if number is None else change(number)
        for number in (figure.value, figure.low, figure.high)
    )
    if low is not None and high is not None and low > high:
        low, high = high, low
    known = "not known" if value is None else "worked out"
    return Figure(value, unit, known, rule.name, figure.source, low, high, rule.validity)
