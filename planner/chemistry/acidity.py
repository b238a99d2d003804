"""How sour is it, as which acid, and what makes it more or less so?"""

from planner.chemistry import molar
from planner.chemistry.figure import Rule, follows
from planner.chemistry.ranges import one_of, within

CONVERSION_RULE = Rule(
    "ratio of equivalent masses",
    "stoichiometry; agrees with Ribereau-Gayon, Handbook of Enology vol. 1",
    "titratable acid of one titration; to pH 8.2 reads 3 to 8 % more than to pH 7.0 (memory)",
)
RAISING_RULE = Rule(
    "acid stirred in", CONVERSION_RULE.source, "titratable acid only; pH does not follow from it"
)
LOWERING_RULE = Rule(
    "acid neutralised",
    "stoichiometry; with bitartrate falling out the bicarbonate does twice as much",
    "titratable acid only; to 4 g/L as tartaric in one go, common practice",
)
THINNING_RULE = Rule("acid spread by volume", "balance of mass, volumes taken to add", "any blend")

# Grams of acid for each mole of hydrogen ions it gives.
EQUIVALENT_G = {
    "tartaric": molar.TARTARIC_ACID / 2,
    "malic": molar.MALIC_ACID / 2,
    "citric": molar.CITRIC_ACID / 3,
    "citric monohydrate": molar.CITRIC_ACID_MONOHYDRATE / 3,
    "lactic": molar.LACTIC_ACID,
    "acetic": molar.ACETIC_ACID,
    "sulphuric": molar.SULPHURIC_ACID / 2,
}
# Grams of salt for each mole of hydrogen ions it takes up.
BASE_EQUIVALENT_G = {
    "potassium bicarbonate": molar.POTASSIUM_BICARBONATE,
    "calcium carbonate": molar.CALCIUM_CARBONATE / 2,
}


@follows(CONVERSION_RULE, unit="g/eq")
def equivalent_mass_g(*, acid: str) -> float:
    return EQUIVALENT_G[one_of(acid, EQUIVALENT_G, name="acid")]


@follows(CONVERSION_RULE, unit="g/L")
def convert_g_per_l(*, acid_g_per_l: float, from_acid: str, to_acid: str) -> float:
    """The same titration said as another acid."""
    within(acid_g_per_l, 0, 100, name="acid", unit="g/L")
    return acid_g_per_l * equivalent_mass_g(acid=to_acid) / equivalent_mass_g(acid=from_acid)


@follows(CONVERSION_RULE, unit="g/L")
def of_milliequivalents_g_per_l(*, milliequivalents_per_l: float, acid: str) -> float:
    """Grams per litre, as an acid, of a titration given in meq/L."""
    within(milliequivalents_per_l, 0, 1000, name="titration", unit="meq/L")
    return milliequivalents_per_l * equivalent_mass_g(acid=acid) / 1000


@follows(RAISING_RULE, unit="g")
def acid_to_add_g(
    *, volume_l: float, rise_g_per_l: float, counted_as: str = "tartaric", acid: str = "tartaric"
) -> float:
    """Acid to weigh so that the titration, counted as one acid, rises by so much."""
    within(volume_l, 0.01, 100_000, name="volume", unit="L")
    within(rise_g_per_l, 0, 20, name="rise", unit="g/L")
    return volume_l * convert_g_per_l(acid_g_per_l=rise_g_per_l, from_acid=counted_as, to_acid=acid)


@follows(LOWERING_RULE, unit="g")
def base_to_add_g(
    *,
    volume_l: float,
    drop_g_per_l: float,
    counted_as: str = "tartaric",
    base: str = "potassium bicarbonate",
    bitartrate_falls: bool = False,
) -> float:
    """Salt to weigh so that the titration falls by so much.

    With `bitartrate_falls` half the potassium bicarbonate does, since the potassium takes
    tartrate with it in the cold; that needs tartaric acid, which few hedge fruits hold.
    """
    one_of(base, BASE_EQUIVALENT_G, name="salt")
    within(volume_l, 0.01, 100_000, name="volume", unit="L")
    within(drop_g_per_l, 0, 4, name="drop", unit="g/L")
    if bitartrate_falls and base != "potassium bicarbonate":
        raise ValueError("only potassium salts take bitartrate down with them")
    grams = BASE_EQUIVALENT_G[base] * drop_g_per_l / equivalent_mass_g(acid=counted_as) * volume_l
    return grams / 2 if bitartrate_falls else grams


@follows(THINNING_RULE, unit="L")
def water_to_thin_l(*, volume_l: float, acid_g_per_l: float, target_g_per_l: float) -> float:
    """Water that spreads the acid; it thins sugar, strength and flavour as well."""
    within(acid_g_per_l, 0, 100, name="acid", unit="g/L")
    within(target_g_per_l, 0.1, acid_g_per_l, name="wanted acid", unit="g/L")
    return volume_l * (acid_g_per_l / target_g_per_l - 1)
