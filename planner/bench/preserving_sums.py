"""Sulphite and sorbate: what guards a wine and keeps it from starting again."""

from collections.abc import Mapping
from typing import Any

from planner.bench.asks import Answer, Ask, Line, Sum, choice, litres, ph, strength
from planner.chemistry import sorbate, sulphite

Values = Mapping[str, Any]
SULPHITE = (
    "Weigh it; never by the spoon. Its dust and gas can set off asthma: open air, no leaning over "
    "the jar. Some people react to sulphite in drink.",
    "Limits are the law of the day where you live; what is given away or sold must say that it "
    "contains sulphites from 10 mg/L on.",
)
KINDS = (
    "cider, fruit wine, made wine and mead",
    "still white or rose",
    "still red",
    "quality sparkling",
)


def _sulphite(values: Values) -> Answer:
    acid, free, total = values["ph"], values["free"], values["total"]
    if total is not None:
        sulphite.check_free_and_total(free_mg_per_l=free, total_mg_per_l=total)
    aim = {"molecular_mg_per_l": values["molecular"], "ph": acid, "pk": values["pk"]}
    wanted = sulphite.free_wanted_mg_per_l.figure(**aim)
    added = max(0.0, wanted.value - free)
    dose = sulphite.dose(
        added_mg_per_l=added,
        volume_l=values["volume"],
        salt=values["salt"],
        strength=values["purity"] / 100,
        solution_percent=values["solution"],
    )
    rule = sulphite.YIELD_RULE
    now = sulphite.molecular_mg_per_l.figure(free_mg_per_l=free, ph=acid, pk=values["pk"])
    lines = [Line(f"{values['salt'].capitalize()} to weigh", rule.figure(dose.salt_g, "g"), True)]
    if dose.solution_ml is not None:
        lines.append(
            Line(
                f"Or of a {values['solution']:g} % solution",
                rule.figure(dose.solution_ml, "mL"),
                True,
            )
        )
    lines += [
        Line("Free SO2 wanted", wanted),
        Line("To be added", rule.figure(added, "mg/L")),
        Line("SO2 in all of it", rule.figure(dose.so2_mg, "mg")),
        Line("Molecular SO2 now", now),
    ]
    return Answer(
        tuple(lines), tuple(_limits(values, added)), addition=("sulphite", lines[0].label)
    )


def _limits(values: Values, added: float) -> list[str]:
    """Refuse what would pass the limit of total SO2; say what is near, or not known."""
    limit = sulphite.total_limit_mg_per_l(kind=values["kind"])
    if values["total"] is None:
        return [
            f"Total SO2 is not known, so the limit of {limit:g} mg/L ({values['kind']}) is not checked."
        ]
    after = values["total"] + added
    if after > limit:
        raise ValueError(
            f"total SO2 would come to {after:.0f} mg/L, over the limit of {limit:g} mg/L for "
            f"{values['kind']}: aim lower, or lower the pH first"
        )
    bound = "What is added does not all stay free: half or more of a first addition binds."
    return [f"Total SO2 after it about {after:.0f} of {limit:g} mg/L allowed.", bound]


SULPHITE_SUM = Sum(
    "sulphite",
    "Sulphite",
    "What to weigh for the free SO2 that this pH asks for.",
    (
        litres("volume", "Volume", named="volume"),
        ph(),
        Ask("free", "Free SO2 now, mg/L", low=0, high=300, initial="0", named="free SO2"),
        Ask("total", "Total SO2 now, mg/L", low=0, high=500, required=False, named="total SO2"),
        Ask(
            "molecular",
            "Molecular SO2 wanted, mg/L",
            low=0,
            high=2,
            initial="0.8",
            help="0.5 for red, 0.8 for white: common practice.",
            named="molecular SO2",
        ),
        Ask(
            "pk",
            "pK",
            low=1.7,
            high=2.6,
            initial="1.81",
            help="1.81 of common tables asks for more; the OIV's is about 2.0 at 10 % vol.",
            named="pK",
        ),
        choice("salt", "Salt", tuple(sulphite.SO2_PER_GRAM)),
        Ask(
            "purity",
            "Strength of the powder, %",
            low=20,
            high=100,
            initial="100",
            help="Old powder is weaker.",
            named="strength of the powder",
        ),
        Ask(
            "solution",
            "Stock solution, g in 100 mL",
            low=1,
            high=30,
            required=False,
            help="If it is measured out of a solution.",
            named="stock solution",
        ),
        choice("kind", "Drink, for the limit", KINDS),
    ),
    _sulphite,
    cautions=SULPHITE,
    words="so2 campden metabisulphite free total molecular steady",
)


def _sorbate(values: Values) -> Answer:
    wanted = sorbate.usual_sorbic_acid(abv=values["abv"])
    dose = sorbate.dose(
        sorbic_acid_mg_per_l=wanted.value, volume_l=values["volume"], country=values["country"]
    )
    reasons = sorbate.hindrances(
        molecular_so2_mg_per_l=values["molecular"],
        malolactic=values["malolactic"] == "yes",
        still_working=values["working"] == "yes",
    )
    grams = sorbate.SORBATE_RULE.figure(dose.potassium_sorbate_g, "g")
    limit = sorbate.limit_mg_per_l.figure(country=values["country"])
    lines = (
        Line("Potassium sorbate to weigh", grams, True),
        Line("As sorbic acid", wanted),
        Line("Most allowed, as sorbic acid", limit),
    )
    said = tuple(f"Against it: {reason}." for reason in reasons)
    return Answer(lines, said, addition=("sorbate", lines[0].label))


SORBATE = Sum(
    "sorbate",
    "Sorbate",
    "What keeps a sweetened wine from starting again; it stops yeast from growing and kills none.",
    (
        litres("volume", "Volume", named="volume"),
        strength(),
        Ask(
            "molecular",
            "Molecular SO2, mg/L",
            low=0,
            high=5,
            required=False,
            help="Empty: not known.",
        ),
        choice("malolactic", "Malolactic bacteria at work", ("no", "yes")),
        choice("working", "Still working", ("no", "yes")),
        choice("country", "Country of the limit", tuple(sorbate.LIMITS_MG_PER_L)),
    ),
    _sorbate,
    cautions=SULPHITE[:1],
    words="stabilise steady sorbic potassium sorbate sweeten",
)

SUMS = (SULPHITE_SUM, SORBATE)
