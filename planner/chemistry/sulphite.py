"""How much of the sulphite works, how much to weigh in, and how much is too much?"""

from dataclasses import dataclass

from planner.chemistry.figure import Rule, follows
from planner.chemistry.molar import (
    SO2_PER_POTASSIUM_METABISULPHITE,
    SO2_PER_SODIUM_METABISULPHITE,
)
from planner.chemistry.ranges import one_of, within

MOLECULAR_RULE = Rule(
    "molecular share of free SO2",
    "Henderson-Hasselbalch; pK 1.81 as in common tables, 25 degC in water",
    "pH 2.5 to 4.5, pK 1.7 to 2.6",
)
PK_RULE = Rule(
    "thermodynamic pK",
    "OIV-MA-AS323-04C Table I, six points read; between them straight lines",
    "0 to 15 % vol, 20 to 30 degC; the ionic correction of about -0.07 is left out",
)
YIELD_RULE = Rule(
    "yield of metabisulphite", "stoichiometry: 57.63 % for potassium, 67.40 % for sodium", "exact"
)
LIMIT_RULE = Rule(
    "limit of total SO2",
    "Reg. (EU) 2019/934 Annex I Part B; UK SI 2011/2936; others from memory",
    "as the law of the day; labels from 10 mg/L (from memory)",
)

# Common table value, the cautious choice: it asks for more free SO2 than the OIV's pK.
COMMON_PK = 1.81
# Common practice: molecular SO2 wanted, mg/L.
MOLECULAR_TARGETS_MG_PER_L = (0.5, 0.8)
# From memory: from this total on, the label must say "contains sulphites".
DECLARED_FROM_MG_PER_L = 10.0
SO2_PER_GRAM = {
    "potassium metabisulphite": SO2_PER_POTASSIUM_METABISULPHITE,
    "sodium metabisulphite": SO2_PER_SODIUM_METABISULPHITE,
}
# OIV-MA-AS323-04C Table I: at 20 degC by strength, and at 10 % vol by temperature.
PK_BY_ABV = ((0.0, 1.798), (5.0, 1.897), (10.0, 1.997), (15.0, 2.099))
PK_BY_TEMPERATURE = ((20.0, 1.997), (25.0, 2.198), (30.0, 2.394))

# Reg. (EU) 2019/934 Annex I Part B: below and from 5 g/L of sugar.
EU_LIMITS_MG_PER_L = {"still red": (150.0, 200.0), "still white or rose": (200.0, 250.0)}
OTHER_LIMITS_MG_PER_L = {
    # UK SI 2011/2936 schedule 2.
    "quality sparkling": 185.0,
    # Reg. (EC) 1333/2008 Annex II, from memory.
    "cider, fruit wine, made wine and mead": 200.0,
}


@dataclass(frozen=True, slots=True)
class SulphiteDose:
    """An addition: what it adds as SO2, and what to weigh."""

    added_mg_per_l: float
    so2_mg: float
    salt_g: float
    salt: str
    solution_ml: float | None
    rule: Rule = YIELD_RULE


def _between(points: tuple[tuple[float, float], ...], x: float) -> float:
    for (x0, y0), (x1, y1) in zip(points, points[1:], strict=False):
        if x <= x1:
            return y0 + (y1 - y0) * (x - x0) / (x1 - x0)
    return points[-1][1]


@follows(PK_RULE, unit="pK")
def thermodynamic_pk(*, abv: float, temperature_c: float) -> float:
    """The OIV's pK, which rises with strength and warmth; offered openly beside 1.81."""
    within(abv, 0, 15, name="strength", unit="% vol")
    within(temperature_c, 20, 30, name="temperature", unit="degC")
    warmth = _between(PK_BY_TEMPERATURE, temperature_c) - PK_BY_TEMPERATURE[0][1]
    return _between(PK_BY_ABV, abv) + warmth


@follows(MOLECULAR_RULE, unit="share")
def molecular_share(*, ph: float, pk: float = COMMON_PK) -> float:
    """The share of free SO2 that is molecular."""
    within(ph, 2.5, 4.5, name="pH")
    within(pk, 1.7, 2.6, name="pK")
    return 1 / (1 + 10 ** (ph - pk))


@follows(MOLECULAR_RULE, unit="mg/L")
def molecular_mg_per_l(*, free_mg_per_l: float, ph: float, pk: float = COMMON_PK) -> float:
    within(free_mg_per_l, 0, 500, name="free SO2", unit="mg/L")
    return free_mg_per_l * molecular_share(ph=ph, pk=pk)


@follows(MOLECULAR_RULE, unit="mg/L")
def free_wanted_mg_per_l(*, molecular_mg_per_l: float, ph: float, pk: float = COMMON_PK) -> float:
    """Free SO2 that gives so much molecular SO2."""
    within(molecular_mg_per_l, 0, 2, name="molecular SO2", unit="mg/L")
    return molecular_mg_per_l / molecular_share(ph=ph, pk=pk)


@follows(YIELD_RULE, unit="mg/L")
def so2_of_salt_mg_per_l(
    *, salt_g: float, volume_l: float, salt: str = "potassium metabisulphite", strength: float = 1.0
) -> float:
    """SO2 that a weight of salt (or a tablet of known weight) puts into a volume."""
    one_of(salt, SO2_PER_GRAM, name="salt")
    within(salt_g, 0, 10_000, name="salt", unit="g")
    within(volume_l, 0.01, 100_000, name="volume", unit="L")
    within(strength, 0.2, 1, name="strength of the powder")
    return 1000 * salt_g * SO2_PER_GRAM[salt] * strength / volume_l


def dose(
    *,
    added_mg_per_l: float,
    volume_l: float,
    salt: str = "potassium metabisulphite",
    strength: float = 1.0,
    solution_percent: float | None = None,
) -> SulphiteDose:
    """What to weigh for an addition; `strength` below 1 for old powder.

    `solution_percent` is grams in 100 mL of a stock solution. What is added does not all stay
    free: half or more of a first addition binds (from memory).
    """
    within(added_mg_per_l, 0, 300, name="SO2 to add", unit="mg/L")
    per_gram = so2_of_salt_mg_per_l(salt_g=1.0, volume_l=volume_l, salt=salt, strength=strength)
    salt_g = added_mg_per_l / per_gram
    solution_ml = None
    if solution_percent is not None:
        within(solution_percent, 1, 30, name="stock solution", unit="%")
        solution_ml = 100 * salt_g / solution_percent
    return SulphiteDose(added_mg_per_l, added_mg_per_l * volume_l, salt_g, salt, solution_ml)


def check_free_and_total(*, free_mg_per_l: float, total_mg_per_l: float) -> None:
    """Refuse a pair of readings in which free SO2 exceeds total."""
    if free_mg_per_l > total_mg_per_l:
        raise ValueError(
            f"free SO2 of {free_mg_per_l:g} mg/L cannot be more than the total of "
            f"{total_mg_per_l:g} mg/L"
        )


@follows(LIMIT_RULE, unit="mg/L")
def total_limit_mg_per_l(*, kind: str, sugar_g_per_l: float = 0.0) -> float:
    """The most total SO2 a kind of drink may hold."""
    one_of(kind, (*EU_LIMITS_MG_PER_L, *OTHER_LIMITS_MG_PER_L), name="kind")
    within(sugar_g_per_l, 0, 500, name="sugar", unit="g/L")
    if kind in OTHER_LIMITS_MG_PER_L:
        return OTHER_LIMITS_MG_PER_L[kind]
    return EU_LIMITS_MG_PER_L[kind][sugar_g_per_l >= 5]
