"""How is a number known, and by which rule? The form every answer takes."""

from collections.abc import Callable
from dataclasses import dataclass
from functools import update_wrapper
from typing import Generic, ParamSpec

KNOWN = ("measured", "worked out", "taken on trust", "not known")

P = ParamSpec("P")


@dataclass(frozen=True, slots=True)
class Figure:
    """A number with its unit, how it is known, the rule and source behind it, and its range."""

    value: float | None
    unit: str
    known: str
    rule: str
    source: str
    low: float | None = None
    high: float | None = None
    validity: str = ""

    def __post_init__(self) -> None:
        if self.known not in KNOWN:
            raise ValueError(f"known must be one of {', '.join(KNOWN)}; {self.known} was given")
        if (self.value is None) != (self.known == "not known"):
            raise ValueError("a figure has a value exactly when it is known")
        if self.low is not None and self.high is not None and self.low > self.high:
            raise ValueError(f"low {self.low} lies above high {self.high}")

    @property
    def is_known(self) -> bool:
        return self.value is not None


@dataclass(frozen=True, slots=True)
class Rule:
    """What a formula is called, where it is printed and where it holds."""

    name: str
    source: str
    validity: str

    def figure(
        self,
        value: float,
        unit: str,
        *,
        low: float | None = None,
        high: float | None = None,
        known: str = "worked out",
    ) -> Figure:
        return Figure(value, unit, known, self.name, self.source, low, high, self.validity)

    def unknown(self, unit: str, *, low: float | None = None, high: float | None = None) -> Figure:
        """An answer this rule cannot give yet, with the bounds that are known all the same."""
        return Figure(None, unit, "not known", self.name, self.source, low, high, self.validity)


class Formula(Generic[P]):
    """A pure function: called it gives a float, asked for `.figure(...)` a Figure with its rule."""

    def __init__(self, function: Callable[P, float], *, rule: Rule, unit: str) -> None:
        update_wrapper(self, function)
        self.function = function
        self.rule = rule
        self.unit = unit

    def __call__(self, *args: P.args, **kwargs: P.kwargs) -> float:
        return self.function(*args, **kwargs)

    def figure(self, *args: P.args, **kwargs: P.kwargs) -> Figure:
        return self.rule.figure(self.function(*args, **kwargs), self.unit)


def follows(rule: Rule, *, unit: str) -> Callable[[Callable[P, float]], Formula[P]]:
    """Tie a function to its rule and unit."""

    def tie(function: Callable[P, float]) -> Formula[P]:
        return Formula(function, rule=rule, unit=unit)

    return tie


def measured(value: float, unit: str, *, source: str = "read off by the person") -> Figure:
    return Figure(value, unit, "measured", "", source)


def trusted(
    value: float, unit: str, *, source: str, low: float | None = None, high: float | None = None
) -> Figure:
    """A value typed in or taken from a table, not checked in this house."""
    return Figure(value, unit, "taken on trust", "", source, low, high)


def unknown(
    unit: str, *, source: str = "", low: float | None = None, high: float | None = None
) -> Figure:
    return Figure(None, unit, "not known", "", source, low, high)
