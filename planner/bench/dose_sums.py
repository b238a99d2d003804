"""Acid and food for the yeast."""

from collections.abc import Mapping
from typing import Any

from planner.bench.asks import Answer, Ask, Line, Sum, choice, gravity, litres
from planner.chemistry import acidity, nutrients
from planner.chemistry.figure import Figure
from planner.chemistry.sugar import sugar_of_gravity_g_per_l

Values = Mapping[str, Any]


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

SUMS = (ACID, NUTRIENT)
