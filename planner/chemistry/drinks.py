"""How many standard drinks or units is that, by country?"""

from planner.chemistry.density import ETHANOL_20
from planner.chemistry.figure import Rule, follows
from planner.chemistry.ranges import one_of, within

UNIT_RULE = Rule(
    "pure alcohol over the country's unit",
    "unit sizes from memory of national guidance; ethanol density from OIML R22",
    "strength at 20 degC; units are guidance, not a measure of harm",
)

GRAMS_PER_ML = ETHANOL_20 / 1000

# From memory, national guidance: millilitres of pure alcohol where the unit is a volume,
# grams otherwise, turned into millilitres here.
UNIT_ML = {
    # 10 mL of pure alcohol.
    "GB": 10.0,
    # 14 g.
    "US": 14.0 / GRAMS_PER_ML,
    # 13.45 g.
    "CA": 13.45 / GRAMS_PER_ML,
    # 10 g each.
    "AU": 10.0 / GRAMS_PER_ML,
    "NZ": 10.0 / GRAMS_PER_ML,
    "IE": 10.0 / GRAMS_PER_ML,
    "FR": 10.0 / GRAMS_PER_ML,
    "ES": 10.0 / GRAMS_PER_ML,
    "NL": 10.0 / GRAMS_PER_ML,
    "PL": 10.0 / GRAMS_PER_ML,
    # 12 g each.
    "DE": 12.0 / GRAMS_PER_ML,
    "DK": 12.0 / GRAMS_PER_ML,
    "SE": 12.0 / GRAMS_PER_ML,
    "FI": 12.0 / GRAMS_PER_ML,
    "IT": 12.0 / GRAMS_PER_ML,
    # 20 g.
    "JP": 20.0 / GRAMS_PER_ML,
}


@follows(UNIT_RULE, unit="standard drinks")
def standard_drinks(*, volume_l: float, abv: float, country: str = "GB") -> float:
    """Units of a country in a volume at a strength."""
    one_of(country, UNIT_ML, name="country")
    within(volume_l, 0, 100_000, name="volume", unit="L")
    within(abv, 0, 100, name="strength", unit="% vol")
    return 1000 * volume_l * abv / 100 / UNIT_ML[country]
