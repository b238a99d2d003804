"""What may a wine with this pressure be called, and where?"""

from dataclasses import dataclass

from planner.chemistry.figure import Rule
from planner.chemistry.ranges import one_of, within

FIZZ_RULE = Rule(
    "classes by excess pressure at 20 degC",
    "Reg. (EU) 1308/2013 Annex VII Part II, OIV I.4.4, UK SI 2011/2936, 27 CFR 26.222",
    "grape wine in law, a guide for others; excess pressure at 20 degC",
)

# 27 CFR 26.222: 0.392 g in 100 mL, +0.009 tolerance.
US_STILL_CO2_G_PER_L = 3.92
# CETIE guide 1: a plain cork holds a still wine up to this much gas.
PLAIN_CORK_CO2_G_PER_L = 1.2
# Below this OIV I.4.4 counts a bottle as small.
SMALL_BOTTLE_L = 0.25


@dataclass(frozen=True, slots=True)
class FizzClass:
    """A term of law and the excess pressure at 20 degC that it needs."""

    name: str
    low_bar: float
    high_bar: float | None
    source: str
    rule: Rule = FIZZ_RULE


CLASSES = (
    FizzClass(
        "EU semi-sparkling wine", 1.0, 2.5, "Reg. (EU) 1308/2013 Annex VII Part II (8), secondary"
    ),
    FizzClass(
        "EU sparkling wine", 3.0, None, "Reg. (EU) 1308/2013 Annex VII Part II (4), secondary"
    ),
    FizzClass(
        "EU quality aromatic sparkling wine",
        3.0,
        None,
        "Reg. (EU) 1308/2013 Annex VII Part II (6)",
    ),
    FizzClass(
        "EU/UK quality sparkling wine",
        3.5,
        None,
        "UK SI 2011/2936 schedule 2 paragraph 4; EU point (5) from memory",
    ),
    FizzClass("OIV sparkling wine", 3.5, None, "OIV Code of Oenological Practices I.4.4"),
)
# OIV Code of Oenological Practices I.4.4: bottles below 0.25 L.
OIV_SMALL_LOW_BAR = 3.0


def low_bar(*, name: str, bottle_l: float = 0.75) -> float:
    """The least excess pressure at 20 degC for a term."""
    by_name = {found.name: found for found in CLASSES}
    one_of(name, by_name, name="term")
    if name == "OIV sparkling wine" and bottle_l < SMALL_BOTTLE_L:
        return OIV_SMALL_LOW_BAR
    return by_name[name].low_bar


def span_bar(*, name: str) -> tuple[float, float | None]:
    """Least and greatest excess pressure at 20 degC for a term."""
    found = {found.name: found for found in CLASSES}[name]
    return found.low_bar, found.high_bar


def classes_at(*, excess_bar: float, bottle_l: float = 0.75) -> tuple[FizzClass, ...]:
    """Every term whose limits this excess pressure at 20 degC meets; none from 2.5 to 3 bar."""
    within(excess_bar, 0, 20, name="excess pressure", unit="bar")
    return tuple(
        found
        for found in CLASSES
        if excess_bar >= low_bar(name=found.name, bottle_l=bottle_l)
        and (found.high_bar is None or excess_bar <= found.high_bar)
    )
