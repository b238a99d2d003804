"""Hydrometer, scales, strength and finish."""

from collections.abc import Mapping
from typing import Any

from planner.bench.asks import Answer, Line, Sum, choice, gravity, litres, strength, warmth
from planner.chemistry import alcohol, finish, hydrometer, sugar
from planner.chemistry import gravity as scales
from planner.chemistry.drinks import UNIT_ML, standard_drinks

Values = Mapping[str, Any]


def _correct(values: Values) -> Answer:
    pair = {"reading": values["reading"], "sample_c": values["sample_c"]}
    pair["calibration_c"] = values["calibration_c"]
    if values["of"] == "must":
        found = hydrometer.must_gravity.figure(**pair)
        beside = hydrometer.shortcut_gravity
        more = ()
        if values["sample_c"] <= 40:
            more = (Line("By the kitchen shortcut", beside.figure(**pair)),)
    else:
        start = values["start"]
        if start is None:
            raise ValueError(
                "start gravity is wanted for a wine: its strength bends the correction"
            )
        found = hydrometer.working_gravity.figure(**pair, start_gravity=start)
        more = ()
    return Answer(
        (Line("True gravity, 20/20", found, main=True), *more), reading=("gravity", "reading")
    )


CORRECT = Sum(
    "gravity-correction",
    "Hydrometer at another temperature",
    "What the hydrometer would show at its own temperature.",
    (
        gravity("reading", "Reading", named="reading"),
        warmth("sample_c", "Temperature of the sample", named="sample temperature"),
        warmth(
            "calibration_c",
            "The hydrometer is made for",
            initial="20 C",
            help="It is printed on its paper: 20 C, 15 C or 60 F.",
            named="hydrometer's temperature",
        ),
        choice("of", "Of what", {"must": "must, before yeast", "wine": "working or finished wine"}),
        gravity(
            "start",
            "Start gravity",
            required=False,
            help="Wanted for wine only.",
            named="start gravity",
        ),
    ),
    _correct,
    words="temperature correction hydrometer reading",
)


def _scales(values: Values) -> Answer:
    found = values["gravity"]
    lines = [Line("Degrees Oechsle", scales.oechsle_of_gravity.figure(gravity=found), main=True)]
    if found >= 1:
        lines = [
            Line("Brix or Plato", scales.brix_of_gravity.figure(gravity=found), main=True),
            *lines,
            Line(
                "Sugar, if all of it is sugar", sugar.sugar_of_gravity_g_per_l.figure(gravity=found)
            ),
            Line(
                "Gravity 15/15",
                scales.gravity_at_reference.figure(gravity=found, from_c=20.0, to_c=15.0),
            ),
            Line(
                "Gravity 60/60 F",
                scales.gravity_at_reference.figure(gravity=found, from_c=20.0, to_c=140 / 9),
            ),
        ]
    else:
        lines.append(
            Line("Apparent extract", scales.apparent_brix_of_gravity.figure(gravity=found))
        )
    return Answer(tuple(lines))


SCALES = Sum(
    "scales",
    "Gravity, Brix, Plato, Oechsle",
    "One reading on every scale in use.",
    (gravity("gravity", "Gravity or degrees", named="gravity"),),
    _scales,
    words="brix plato oechsle convert sugar grams per litre",
)


def _strength(values: Values) -> Answer:
    pair = {"start_gravity": values["start"], "finish_gravity": values["finish"]}
    first, *others = alcohol.abv_by_method(**pair)
    lines = [Line("Strength", alcohol.strength(**pair), main=True)]
    lines += [Line(f"By {figure.rule}", figure) for figure in others]
    lines.append(Line("Alcohol in a litre", alcohol.ethanol_g_per_l.figure(abv=first.value)))
    return Answer(tuple(lines), reading=("gravity", "finish"))


STRENGTH = Sum(
    "strength",
    "How strong is it",
    "From the gravity before yeast and the gravity now.",
    (
        gravity("start", "Start gravity", named="start gravity"),
        gravity("finish", "Gravity now", named="finish gravity"),
    ),
    _strength,
    words="alcohol abv percent strength",
)


def _finish(values: Values) -> Answer:
    start, bears = values["start"], values["bears"]
    expected = finish.expected_finish(start_gravity=start, tolerance_abv=bears)
    dry = finish.dry_finish(start_gravity=start)
    hexose = sugar.hexose_of_sucrose(sucrose_g_per_l=sugar.sugar_of_gravity_g_per_l(gravity=start))
    return Answer(
        (
            Line("Finish to expect", expected, main=True),
            Line("Driest finish", finish.FINISH_RULE.figure(dry.gravity, "SG")),
            Line("Strength when dry", finish.FINISH_RULE.figure(dry.abv, "% vol")),
            Line("Strength by sugar alone", alcohol.potential_abv.figure(hexose_g_per_l=hexose)),
        )
    )


FINISH = Sum(
    "finish",
    "Where will it stop",
    "The finish to expect from a start, dry or where the yeast has had enough.",
    (
        gravity("start", "Start gravity", named="start gravity"),
        strength(
            "bears",
            "Strength the yeast bears, % vol",
            required=False,
            help="From its packet; empty: it ferments dry.",
        ),
    ),
    _finish,
    words="potential alcohol expected finish tolerance dry",
)


def _drinks(values: Values) -> Answer:
    found = standard_drinks.figure(
        volume_l=values["volume"], abv=values["abv"], country=values["country"]
    )
    return Answer((Line("Standard drinks", found, main=True),))


DRINKS = Sum(
    "standard-drinks",
    "Standard drinks",
    "How many of a country's units a bottle holds.",
    (
        litres("volume", "Volume", initial="750 mL", named="volume"),
        strength(),
        choice("country", "Country", tuple(UNIT_ML)),
    ),
    _drinks,
    cautions=(
        "Units are guidance, not a measure of harm. Who is pregnant, drives, takes medicine or is "
        "young should not drink it.",
    ),
    words="units alcohol drinks",
)

SUMS = (CORRECT, SCALES, STRENGTH, FINISH, DRINKS)
