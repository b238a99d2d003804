"""Blending, fortifying, sweetening, thinning, syrup and how it keeps."""

from collections.abc import Mapping
from typing import Any

from planner.bench.asks import GRAMS, Answer, Ask, Line, Sum, choice, gravity, litres, ph, strength
from planner.chemistry import blending, keeping, sugar
from planner.chemistry.blending import Liquid
from planner.chemistry.figure import Figure
from planner.chemistry.sweetness import sweetness

Values = Mapping[str, Any]
HOT = (
    "Hot syrup burns deeper than water: long sleeves, no children near, no glass from the cold.",
)
SWEET_AND_LIVE = (
    "Sugar in a closed bottle with living yeast makes pressure that no cork or still bottle holds: "
    "steady it first and keep it still, keep it cold and open it early, or sweeten in the glass."
)


def _sweeten(values: Values) -> Answer:
    now, wanted, grams = values["now"], values["wanted"], values["sugar"]
    if (wanted is None) == (grams is None):
        raise ValueError("say either the gravity wanted or the sugar wanted in a litre, not both")
    if wanted is not None:
        found = sugar.sweeten(volume_l=values["volume"], gravity=now, target_gravity=wanted)
    else:
        found = sugar.sweeten_by(volume_l=values["volume"], sugar_g_per_l=grams)
    rule = sugar.SWEETENING_RULE
    word = sweetness(sugar_g_per_l=found.sugar_g_per_l)
    lines = (
        Line("Sugar to weigh", rule.figure(found.sugar_kg, "kg"), True),
        Line("Volume then", rule.figure(found.volume_l, "L")),
        Line("Sugar in a litre then", rule.figure(found.sugar_g_per_l, "g/L")),
    )
    remarks = (
        f"{word.word.capitalize()}, {found.sugar_g_per_l:.0f} g/L added; sugar left in the wine comes on top.",
        SWEET_AND_LIVE,
    )
    return Answer(lines, remarks, addition=("sugar", "Sugar to weigh"))


SWEETEN = Sum(
    "sweetening",
    "Sweetening",
    "Sugar that brings a finished wine to a gravity or to so many grams in a litre.",
    (
        litres("volume", "Volume", named="volume"),
        gravity("now", "Gravity now", initial="0.996", named="gravity"),
        gravity("wanted", "Gravity wanted", required=False, named="wanted gravity"),
        Ask("sugar", "Or sugar wanted, g/L", low=0, high=400, required=False, named="sugar"),
    ),
    _sweeten,
    words="sweeten back sweetness sugar",
)


def _must(values: Values) -> Answer:
    pair = {key: values[key] for key in ("volume_l",)} | {
        "gravity": values["now"],
        "target_gravity": values["wanted"],
    }
    if values["wanted"] < values["now"]:
        water = sugar.water_to_thin_l.figure(**pair)
        return Answer((Line("Water to add", water, True),), addition=("water", "Water to add"))
    stirred = sugar.sugar_to_stir_in_kg.figure(**pair)
    lines = (
        Line("Sugar to stir in", stirred, True),
        Line(
            "Sugar in place of water, at the same volume",
            sugar.sugar_to_reach_kg.figure(**pair),
            True,
        ),
        Line(
            "Volume after stirring in",
            sugar.SWEETENING_RULE.figure(
                values["volume_l"] + sugar.DISPLACED_L_PER_KG * stirred.value, "L"
            ),
        ),
    )
    remark = "Fruit still holds sugar for days; read again before adding."
    return Answer(lines, (remark,), addition=("sugar", "Sugar to stir in"))


MUST = Sum(
    "must-gravity",
    "Bring a must to a gravity",
    "Sugar to lift a must, or water to thin it.",
    (
        litres("volume_l", "Volume", named="volume"),
        gravity("now", "Gravity now", named="gravity"),
        gravity("wanted", "Gravity wanted", named="wanted gravity"),
    ),
    _must,
    words="chaptalise sugar water dilution must",
)


def _blend(values: Values) -> Answer:
    parts = [
        Liquid(values[f"volume_{n}"], values[f"abv_{n}"], values[f"extract_{n}"] or 0.0)
        for n in (1, 2)
    ]
    mixed = blending.blend(*parts)
    rule = blending.MASS_RULE
    poured = sum(part.volume_l for part in parts)
    lines = [
        Line("Strength of the blend", rule.figure(mixed.abv, "% vol"), True),
        Line("Volume, the shrinking counted", rule.figure(mixed.volume_l, "L"), True),
        Line("Lost to shrinking", rule.figure(1000 * (poured - mixed.volume_l), "mL")),
        Line("Gravity", rule.figure(mixed.gravity, "SG")),
    ]
    acids = values["acid_1"], values["acid_2"]
    if None not in acids:
        mean = blending.mean_by_volume.figure(
            volumes_l=tuple(part.volume_l for part in parts), values=acids
        )
        lines.append(Line("Acid", Figure(mean.value, "g/L", mean.known, mean.rule, mean.source)))
    return Answer(tuple(lines), ("Blend a glass first and taste; then the rest.",))


def _part(n: int) -> tuple[Ask, ...]:
    which = ("first", "second")[n - 1]
    return (
        litres(f"volume_{n}", f"Volume of the {which}", named="volume"),
        strength(f"abv_{n}", f"Strength of the {which}, % vol"),
        Ask(
            f"extract_{n}",
            f"Sugar and extract of the {which}, g/L",
            low=0,
            high=900,
            required=False,
            help="Empty: left out.",
            named="extract",
        ),
        Ask(f"acid_{n}", f"Acid of the {which}, g/L", low=0, high=50, required=False),
    )


BLEND = Sum(
    "blending",
    "Blending two",
    "By mass, so that the shrinking of spirit and water is counted.",
    (*_part(1), *_part(2)),
    _blend,
    words="blend mix fortify spirit pearson acid",
)


def _fortify(values: Values) -> Answer:
    wine, spirit = Liquid(values["volume"], values["abv"]), Liquid(1.0, values["spirit"])
    litres_wanted = blending.spirit_to_reach_l(
        wine=wine, spirit=spirit, target_abv=values["wanted"]
    )
    mixed = blending.fortify(
        volume_l=wine.volume_l, abv=wine.abv, spirit_l=litres_wanted, spirit_abv=spirit.abv
    )
    rule = blending.MASS_RULE
    return Answer(
        (
            Line("Spirit to add", rule.figure(litres_wanted, "L"), True),
            Line("Volume then", rule.figure(mixed.volume_l, "L")),
        )
    )


FORTIFY = Sum(
    "fortifying",
    "Bought spirit to a strength",
    "How much bought spirit brings a wine to a strength.",
    (
        litres("volume", "Volume of the wine", named="volume"),
        strength("abv", "Its strength, % vol"),
        strength("spirit", "Strength of the spirit, % vol"),
        strength("wanted", "Strength wanted, % vol"),
    ),
    _fortify,
    cautions=("Only bought, duty-paid spirit. Alcohol vapour burns: no flame near.",),
    words="fortify spirit brandy strength",
)


def _syrup(values: Values) -> Answer:
    made = sugar.syrup(water_l=values["water"], sugar_kg=values["grams"] / 1000)
    share, rule = made.brix / 100, sugar.CONCENTRATION_RULE
    kept = keeping.shelf(brix=made.brix, ph=values["ph"], heat=values["heat"])
    activity = keeping.water_activity.figure(sucrose_share=min(share, 0.75))
    lines = (
        Line("Strength", rule.figure(made.brix, "degBx"), True),
        Line("Volume", rule.figure(made.volume_l, "L"), True),
        Line("Sugar in a litre", rule.figure(made.sugar_g_per_l, "g/L")),
        Line("Gravity", rule.figure(made.gravity, "SG")),
        Line("Water activity", activity),
    )
    why = "; ".join(kept.reasons)
    return Answer(
        lines,
        (
            f"Keep it: {kept.place}. {why[:1].upper()}{why[1:]}.",
            f"{keeping.SHELF_RULE.validity[:1].upper()}{keeping.SHELF_RULE.validity[1:]}. When in "
            "doubt keep it cold, and throw out what foams, clouds or smells of yeast.",
        ),
    )


SYRUP = Sum(
    "syrup",
    "Syrup and cordial",
    "How thick it comes out, and where it keeps.",
    (
        litres("water", "Water or juice counted as water", named="water"),
        Ask(
            "grams",
            "Sugar",
            GRAMS,
            help="For example 1.2 kg; a bare number is grams.",
            named="sugar",
        ),
        ph(required=False, help="Empty: not known."),
        choice("heat", "Heat", keeping.HEATS),
    ),
    _syrup,
    cautions=HOT,
    words="cordial syrup keep shelf water activity pasteurise brix",
)

SUMS = (MUST, SWEETEN, BLEND, FORTIFY, SYRUP)
