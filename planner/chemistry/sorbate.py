"""How much sorbate keeps a sweetened wine from starting again, and when is it no use?"""

from dataclasses import dataclass

from planner.chemistry.figure import Figure, Rule, follows
from planner.chemistry.molar import SORBIC_ACID_PER_POTASSIUM_SORBATE
from planner.chemistry.ranges import one_of, within

SORBATE_RULE = Rule(
    "sorbic acid from potassium sorbate",
    "stoichiometry: 74.64 %; OIV II.3.4.5 for the limit",
    "bright, racked wine with sulphite, shortly before bottling; it stops yeast, kills none",
)
TABLE_RULE = Rule(
    "sorbic acid by strength",
    "the house's table; the one given here is common practice, no source",
    "0 to 20 % vol, pH below 3.6",
)

# OIV II.3.4.5 for the EU; the United States figure from memory. Sorbic acid, mg/L.
LIMITS_MG_PER_L = {"EU": 200.0, "GB": 200.0, "US": 300.0}
# Common practice, no source: from this strength on, so much sorbic acid in mg/L.
USUAL_TABLE = ((0.0, 200.0), (10.5, 170.0), (11.5, 135.0), (12.5, 100.0), (13.5, 70.0))
# Common practice, no source: molecular SO2 without which sorbate invites the geranium taint.
MOLECULAR_SO2_WANTED_MG_PER_L = 0.5


@dataclass(frozen=True, slots=True)
class SorbateDose:
    """An addition: as sorbic acid, and what to weigh."""

    sorbic_acid_mg_per_l: float
    potassium_sorbate_g: float
    rule: Rule = SORBATE_RULE


def usual_sorbic_acid(
    *, abv: float, table: tuple[tuple[float, float], ...] = USUAL_TABLE
) -> Figure:
    """Sorbic acid by strength, from the house's own table where it has one."""
    within(abv, 0, 20, name="strength", unit="% vol")
    fitting = [amount for least_abv, amount in table if abv >= least_abv]
    if not fitting:
        raise ValueError(f"the table begins at {table[0][0]:g} % vol; {abv:g} was given")
    return TABLE_RULE.figure(fitting[-1], "mg/L", known="taken on trust")


@follows(SORBATE_RULE, unit="mg/L")
def limit_mg_per_l(*, country: str) -> float:
    """The most sorbic acid a wine may hold."""
    return LIMITS_MG_PER_L[one_of(country, LIMITS_MG_PER_L, name="country")]


def dose(*, sorbic_acid_mg_per_l: float, volume_l: float, country: str = "EU") -> SorbateDose:
    """Potassium sorbate to weigh; above the country's limit it is refused."""
    most = limit_mg_per_l(country=country)
    within(sorbic_acid_mg_per_l, 0, most, name="sorbic acid", unit="mg/L")
    within(volume_l, 0.01, 100_000, name="volume", unit="L")
    grams = sorbic_acid_mg_per_l * volume_l / 1000 / SORBIC_ACID_PER_POTASSIUM_SORBATE
    return SorbateDose(sorbic_acid_mg_per_l, grams)


def hindrances(
    *, molecular_so2_mg_per_l: float | None, malolactic: bool | None, still_working: bool
) -> tuple[str, ...]:
    """Why sorbate would be no use or do harm, in words; empty when nothing speaks against it."""
    reasons = []
    if still_working:
        reasons.append("yeast is still working; sorbate does not kill it")
    if molecular_so2_mg_per_l is None:
        reasons.append("sulphite is not known; without it sorbate can turn to geranium taint")
    elif molecular_so2_mg_per_l < MOLECULAR_SO2_WANTED_MG_PER_L:
        reasons.append(
            f"molecular SO2 is {molecular_so2_mg_per_l:.2f} mg/L, below "
            f"{MOLECULAR_SO2_WANTED_MG_PER_L:g}; geranium taint may follow"
        )
    if malolactic:
        reasons.append("malolactic bacteria are at work; they turn sorbate to geranium taint")
    return tuple(reasons)
