"""Does an input lie where the rule holds?"""


def within(value: float, low: float, high: float, *, name: str, unit: str = "") -> float:
    """Return the value, or raise ValueError that names the range; not-a-number is refused too."""
    if not low <= value <= high:
        span = f"{low:g} to {high:g} {unit}".rstrip()
        raise ValueError(f"{name} must lie within {span}; {value:g} was given")
    return value


def one_of(value: str, choices, *, name: str) -> str:
    """Return the value, or raise ValueError that lists what may be chosen."""
    if value not in choices:
        raise ValueError(f"{name} must be one of {', '.join(choices)}; {value} was given")
    return value
