"""How sweet is it, in the house's word and in the words of law? Always with grams per litre."""

from dataclasses import dataclass

from planner.chemistry.figure import Rule
from planner.chemistry.ranges import within

WORD_RULE = Rule(
    "house word, on the limits for still wine",
    "Reg. (EU) 2019/33 Annex III B and OIV labelling 3.1.6; bone dry: common practice, no source",
    "0 to 500 g/L of sugar",
)
STILL_RULE = Rule(
    "terms for still wine",
    "Reg. (EU) 2019/33 Annex III B and OIV labelling 3.1.6",
    "grape wine in law, a guide for others; tolerance 1 g/L",
)
SPARKLING_RULE = Rule(
    "terms for sparkling wine",
    "Reg. (EU) 2019/33 Annex III A",
    "grape wine in law, a guide for others; tolerance 3 g/L",
)

WORDS = ("bone dry", "dry", "medium dry", "medium", "sweet")
# Common practice, no source: below this nobody tastes sugar.
BONE_DRY_BELOW_G_PER_L = 2.0

# Reg. (EU) 2019/33 Annex III A: lowest and highest g/L, and whether the highest still counts.
SPARKLING_TERMS = (
    ("extra brut", 0.0, 6.0, True),
    ("brut", 0.0, 12.0, False),
    ("extra dry", 12.0, 17.0, True),
    ("sec / dry", 17.0, 32.0, True),
    ("demi-sec / medium dry", 32.0, 50.0, True),
)
BRUT_NATURE_BELOW_G_PER_L = 3.0


@dataclass(frozen=True, slots=True)
class Sweetness:
    """A word and its grams per litre, never one without the other."""

    word: str
    sugar_g_per_l: float
    rule: Rule = WORD_RULE


def sweetness(*, sugar_g_per_l: float, acid_tartaric_g_per_l: float | None = None) -> Sweetness:
    """The house's word for a wine; acid, where known, lets a sharp wine count as drier."""
    terms = still_terms(sugar_g_per_l=sugar_g_per_l, acid_tartaric_g_per_l=acid_tartaric_g_per_l)
    word = terms[0].split(" (")[0]
    if sugar_g_per_l < BONE_DRY_BELOW_G_PER_L:
        word = "bone dry"
    return Sweetness(word, sugar_g_per_l)


def still_terms(
    *, sugar_g_per_l: float, acid_tartaric_g_per_l: float | None = None
) -> tuple[str, ...]:
    """Legal terms a still wine may bear; where two fit, the maker picks one (article 52)."""
    sugar = within(sugar_g_per_l, 0, 500, name="sugar", unit="g/L")
    acid = 0.0
    if acid_tartaric_g_per_l is not None:
        acid = within(acid_tartaric_g_per_l, 0, 40, name="acid as tartaric", unit="g/L")
    sharp = acid_tartaric_g_per_l is not None
    if sugar <= 4 or (sharp and sugar <= 9 and acid >= sugar - 2):
        return ("dry",)
    if sugar <= 12 or (sharp and sugar <= 18 and sugar - acid <= 10):
        return ("medium dry",)
    if sugar < 45:
        return ("medium (semi-sweet)",)
    return ("medium (semi-sweet)", "sweet") if sugar == 45 else ("sweet",)


def sparkling_terms(*, sugar_g_per_l: float, sugar_added: bool = True) -> tuple[str, ...]:
    """Legal terms a sparkling wine may bear, driest first; `sugar_added` after the second ferment."""
    sugar = within(sugar_g_per_l, 0, 500, name="sugar", unit="g/L")
    if sugar > 50:
        return ("doux / sweet",)
    fitting = tuple(
        term
        for term, low, high, inclusive in SPARKLING_TERMS
        if low <= sugar < high or (inclusive and sugar == high)
    )
    if sugar < BRUT_NATURE_BELOW_G_PER_L and not sugar_added:
        return ("brut nature", *fitting)
    return fitting
