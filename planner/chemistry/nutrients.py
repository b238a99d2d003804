"""How much nitrogen does the yeast want, how much is there, and when is it given?"""

from dataclasses import dataclass

from planner.chemistry.figure import Figure, Rule, follows
from planner.chemistry.molar import NITROGEN_PER_DAP
from planner.chemistry.ranges import one_of, within

SUPPLY_RULE = Rule(
    "nitrogen from a nutrient",
    "stoichiometry: 21.2 % in diammonium phosphate; others by their label",
    "any amount; organic nitrogen counts as labelled, no bonus",
)
STRAIN_RULE = Rule(
    "need by sugar and strain",
    "trade practice, from memory: 0.75, 0.9 or 1.25 mg N for each g/L of sugar",
    "1 to 350 g/L of sugar",
)
TARGET_RULE = Rule(
    "need by degrees Brix",
    "Bisson & Butzke, Am. J. Enol. Vitic. 51(2) 2000, its table from memory",
    "21 to 27 degBx",
)
LIMIT_RULE = Rule(
    "limit of diammonium phosphate",
    "EU 1 g/L, US 8 lb/1000 gal, from memory",
    "as the law of the day",
)
STAGES_RULE = Rule(
    "equal shares by a third of the sugar",
    "common practice, no source",
    "none after a third of the sugar is gone",
)

# AWRI (Weeks & Henschke): below this total, trouble is likelier.
RISK_FLOOR_MG_PER_L = 150.0
# Trade practice, from memory: mg N for each g/L of sugar.
NEED_BY_DEMAND = {"low": 0.75, "medium": 0.9, "high": 1.25}
# From memory: diammonium phosphate, g/L.
DAP_LIMITS_G_PER_L = {"EU": 1.0, "GB": 1.0, "US": 0.9586}
# Bisson & Butzke 2000, from memory.
TARGET_AT_21, TARGET_STEP = 200.0, 25.0
# Common practice, no source: hours after pitching.
STAGE_HOURS = (24.0, 48.0, 72.0)


@dataclass(frozen=True, slots=True)
class Stage:
    """One share of the nutrient, and the hours after pitching at which it is stirred in."""

    hours: float
    grams: float


@dataclass(frozen=True, slots=True)
class Feeding:
    """The shares, and the gravity at a third of the sugar, after which none is given."""

    stages: tuple[Stage, ...]
    last_gravity: float
    rule: Rule = STAGES_RULE


@follows(SUPPLY_RULE, unit="mg N/L")
def nitrogen_of_nutrient_mg_per_l(
    *, nutrient_g: float, volume_l: float, nitrogen_share: float = NITROGEN_PER_DAP
) -> float:
    """Yeast-available nitrogen that a nutrient brings; the share is the product's own."""
    within(nutrient_g, 0, 10_000, name="nutrient", unit="g")
    within(volume_l, 0.01, 100_000, name="volume", unit="L")
    within(nitrogen_share, 0, 0.5, name="nitrogen share")
    return 1000 * nutrient_g * nitrogen_share / volume_l


@follows(SUPPLY_RULE, unit="g")
def nutrient_to_add_g(
    *, missing_mg_per_l: float, volume_l: float, nitrogen_share: float = NITROGEN_PER_DAP
) -> float:
    """Nutrient that brings so much nitrogen."""
    within(missing_mg_per_l, 0, 600, name="missing nitrogen", unit="mg/L")
    within(nitrogen_share, 0.01, 0.5, name="nitrogen share")
    return missing_mg_per_l * volume_l / 1000 / nitrogen_share


@follows(STRAIN_RULE, unit="mg N/L")
def need_mg_per_l(*, sugar_g_per_l: float, demand: str = "medium") -> float:
    """Nitrogen a strain of low, medium or high demand wants for this much sugar."""
    one_of(demand, NEED_BY_DEMAND, name="demand")
    return within(sugar_g_per_l, 1, 350, name="sugar", unit="g/L") * NEED_BY_DEMAND[demand]


@follows(TARGET_RULE, unit="mg N/L")
def target_mg_per_l(*, brix: float) -> float:
    """Nitrogen by ripeness, for strong musts."""
    return TARGET_AT_21 + TARGET_STEP * (within(brix, 21, 27, name="Brix", unit="degBx") - 21)


def need(*, sugar_g_per_l: float, demand: str | None = None) -> Figure:
    """The need as a range; without a known demand it spans low to high."""
    low, middle, high = (
        need_mg_per_l(sugar_g_per_l=sugar_g_per_l, demand=name) for name in NEED_BY_DEMAND
    )
    if demand is None:
        return STRAIN_RULE.figure(middle, "mg N/L", low=low, high=high)
    return STRAIN_RULE.figure(need_mg_per_l(sugar_g_per_l=sugar_g_per_l, demand=demand), "mg N/L")


@follows(LIMIT_RULE, unit="g/L")
def dap_limit_g_per_l(*, country: str) -> float:
    return DAP_LIMITS_G_PER_L[one_of(country, DAP_LIMITS_G_PER_L, name="country")]


def feeding(
    *, total_g: float, start_gravity: float, finish_gravity: float, stages: int = 3
) -> Feeding:
    """Split a nutrient into equal shares, and say where to stop."""
    within(total_g, 0, 10_000, name="nutrient", unit="g")
    within(stages, 1, len(STAGE_HOURS), name="shares")
    if finish_gravity > start_gravity:
        raise ValueError(
            f"the finish {finish_gravity:.4f} lies above the start {start_gravity:.4f}"
        )
    shares = tuple(Stage(hours, total_g / stages) for hours in STAGE_HOURS[:stages])
    return Feeding(shares, start_gravity - (start_gravity - finish_gravity) / 3)
