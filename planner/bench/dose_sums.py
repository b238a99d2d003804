"""Sulphite, sorbate, acid and nutrient: what to weigh."""

from collections.abc import Mapping
from typing import Any

from planner.bench.asks import Answer, Ask, Line, Sum, choice, gravity, litres, ph, strength
from planner.chemistry import acidity, nutrients, sorbate, sulphite
from planner.chemistry.figure import Figure
from planner.chemistry.sugar import sugar_of_gravity_g_per_l

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


def _acid(values: Values) -> Answer:
    now, wanted, litres_in_all = values["now"], values["wanted"], values["volume"]
    counted, acid = values["counted"], values["acid"]
    figures = [
        Line(
            f"The same titration as {other}",
            acidity.convert_g_per_l.figure(acid_g_per_l=now, from_acid=counted, to_acid=other),
        )
        for other in ("tartaric", "malic", "citric", "sulphuric")
        if other != counted
    ]
    if wanted is None or litres_in_all is None:
        return Answer(
            (Line(f"As {counted}", acidity.CONVERSION_RULE.figure(now, "g/L"), True), *figures)
        )
    if wanted >= now:
        grams = acidity.acid_to_add_g.figure(
            volume_l=litres_in_all, rise_g_per_l=wanted - now, counted_as=counted, acid=acid
        )
        found = [Line(f"{acid.capitalize()} acid to weigh", grams, True)]
    else:
        found = _lower(values, now - wanted)
    remark = "Only the titration is reckoned; pH does not follow from it. Stir in half, taste, then the rest."
    return Answer((*found, *figures), (remark,), addition=("acid", found[0].label))


def _lower(values: Values, drop: float) -> list[Line]:
    salt = {"volume_l": values["volume"], "drop_g_per_l": drop, "counted_as": values["counted"]}
    water = acidity.water_to_thin_l.figure(
        volume_l=values["volume"], acid_g_per_l=values["now"], target_g_per_l=values["wanted"]
    )
    return [
        Line("Potassium bicarbonate to weigh", acidity.base_to_add_g.figure(**salt), True),
        Line(
            "If its bitartrate falls out in the cold",
            acidity.base_to_add_g.figure(**salt, bitartrate_falls=True),
        ),
        Line("Or thin with water", water),
    ]


ACID = Sum(
    "acid",
    "Acid, more or less",
    "Between the ways of counting acid, and what raises or lowers it.",
    (
        Ask("now", "Acid now, g/L", low=0, high=100, named="acid"),
        choice("counted", "Counted as", tuple(acidity.EQUIVALENT_G)),
        Ask("wanted", "Acid wanted, g/L", low=0.1, high=40, required=False, named="wanted acid"),
        litres("volume", "Volume", required=False, named="volume"),
        choice("acid", "Acid to add", ("tartaric", "malic", "citric", "citric monohydrate")),
    ),
    _acid,
    words="titratable acidity ta tartaric malic citric bicarbonate",
)


def _nutrient(values: Values) -> Answer:
    sugar = sugar_of_gravity_g_per_l(gravity=values["start"])
    demand = None if values["demand"] == "not known" else values["demand"]
    need = nutrients.need(sugar_g_per_l=sugar, demand=demand)
    there = values["there"]
    if there is None:
        line = Line("Nitrogen the yeast wants", need, True)
        return Answer(
            (line,), ("What the must brings is not known: it is not counted as nothing.",)
        )
    missing = max(0.0, need.value - there)
    share = values["share"] / 100
    grams = nutrients.nutrient_to_add_g.figure(
        missing_mg_per_l=missing, volume_l=values["volume"], nitrogen_share=share
    )
    feed = nutrients.feeding(
        total_g=grams.value, start_gravity=values["start"], finish_gravity=values["finish"]
    )
    stages = [
        Line(
            f"Stir in {stage.hours:g} h after the yeast",
            nutrients.STAGES_RULE.figure(stage.grams, "g"),
        )
        for stage in feed.stages
    ]
    last = Line("None below a gravity of", nutrients.STAGES_RULE.figure(feed.last_gravity, "SG"))
    lines = (
        Line("Nutrient to weigh", grams, True),
        Line("Nitrogen the yeast wants", need),
        Line("Missing", nutrients.SUPPLY_RULE.figure(missing, "mg N/L")),
        *stages,
        last,
    )
    return Answer(lines, tuple(_dap_limit(values, grams)), addition=("nutrient", lines[0].label))


def _dap_limit(values: Values, grams: Figure) -> list[str]:
    limit = nutrients.dap_limit_g_per_l(country=values["country"])
    dose = grams.value / values["volume"]
    if dose > limit:
        return [
            f"That is {dose:.2f} g/L, over the limit for diammonium phosphate of {limit:g} g/L."
        ]
    return [f"That is {dose:.2f} g/L; diammonium phosphate may reach {limit:g} g/L."]


NUTRIENT = Sum(
    "nutrient",
    "Food for the yeast",
    "Nitrogen wanted for the sugar there is, and what brings it, in shares.",
    (
        litres("volume", "Volume", named="volume"),
        gravity("start", "Start gravity", named="start gravity"),
        gravity("finish", "Finish expected", initial="0.995", named="finish gravity"),
        choice("demand", "Demand of the strain", ("not known", *nutrients.NEED_BY_DEMAND)),
        Ask(
            "there",
            "Nitrogen in the must, mg/L",
            low=0,
            high=1000,
            required=False,
            help="Empty: not known.",
        ),
        Ask(
            "share",
            "Nitrogen in the nutrient, %",
            low=1,
            high=50,
            initial="21.2",
            help="By its label; diammonium phosphate has 21.2.",
            named="nitrogen share",
        ),
        choice("country", "Country of the limit", tuple(nutrients.DAP_LIMITS_G_PER_L)),
    ),
    _nutrient,
    words="yan nitrogen nutrient dap yeast food",
)

SUMS = (SULPHITE_SUM, SORBATE, ACID, NUTRIENT)
