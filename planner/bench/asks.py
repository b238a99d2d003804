"""What may a sum ask, and what does it answer?"""

from collections.abc import Callable, Mapping
from dataclasses import dataclass
from typing import Any

from planner.chemistry.figure import Figure

# How a box is read: planner/forms/bench.py has a field for each.
GRAVITY, TEMPERATURE, NUMBER = "gravity", "temperature", "number"
LITRES, GRAMS, SIZES, CHOICE = "litres", "grams", "sizes", "choice"
COUNTS, NUMBERS = "counts", "numbers"


@dataclass(frozen=True, slots=True)
class Ask:
    """One box: `named` is how a formula's refusal of its value begins; several between bars."""

    key: str
    label: str
    kind: str = NUMBER
    low: float = 0.0
    high: float = 1_000_000.0
    help: str = ""
    initial: str = ""
    required: bool = True
    choices: tuple[tuple[str, str], ...] = ()
    named: str = ""


@dataclass(frozen=True, slots=True)
class Line:
    """One figure of the answer, with what it is; `main` is what was asked for."""

    label: str
    figure: Figure
    main: bool = False


@dataclass(frozen=True, slots=True)
class Answer:
    """The figures, first the one that was asked for, and what must be said beside them."""

    lines: tuple[Line, ...]
    remarks: tuple[str, ...] = ()
    reading: tuple[str, str] | None = None
    addition: tuple[str, str] | None = None


@dataclass(frozen=True, slots=True)
class Sum:
    """A single sum of the bench.

    `work` takes the values by key (floats in the units of the formulas; none for an empty box) and
    raises ValueError where the rule does not hold.
    """

    slug: str
    title: str
    lead: str
    asks: tuple[Ask, ...]
    work: Callable[[Mapping[str, Any]], Answer]
    cautions: tuple[str, ...] = ()
    words: str = ""

    def ask_named(self, message: str) -> Ask | None:
        """The box a refusal is about, where the message begins with its name."""
        named = [
            (len(name), ask)
            for ask in self.asks
            for name in ask.named.split("|")
            if name and message.startswith(name)
        ]
        return max(named, key=lambda pair: pair[0], default=(0, None))[1]


def choice(key: str, label: str, values: Mapping[str, str] | tuple[str, ...], **more: Any) -> Ask:
    """A box of fixed words; the first is chosen unless `initial` says another."""
    pairs = tuple(values.items()) if isinstance(values, Mapping) else tuple((v, v) for v in values)
    return Ask(key, label, CHOICE, choices=pairs, **{"initial": pairs[0][0]} | more)


def litres(key: str, label: str, **more: Any) -> Ask:
    return Ask(key, label, LITRES, **{"help": "For example 18 L; a bare number is litres."} | more)


def gravity(key: str, label: str, **more: Any) -> Ask:
    return Ask(key, label, GRAVITY, **{"help": "1.085, 1085, 85 points or 20 Brix."} | more)


def warmth(key: str, label: str, **more: Any) -> Ask:
    return Ask(key, label, TEMPERATURE, **{"help": "21 C or 70 F."} | more)


def ph(**more: Any) -> Ask:
    return Ask("ph", "pH", low=1.5, high=9, named="pH", **more)


def strength(key: str = "abv", label: str = "Strength, % vol", **more: Any) -> Ask:
    return Ask(key, label, low=0, high=96, named="strength", **more)
