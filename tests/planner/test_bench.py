"""Every sum of the bench against figures from outside, and what it refuses.

The figures marked "worked example" were reckoned by a separate program from the published relations.
"""

import pytest

from planner import figures
from planner.bench import SUMS
from planner.chemistry.figure import unknown
from planner.forms.bench import BenchForm

pytestmark = pytest.mark.unit

DAMSON = {"volumes": "3", "warmest_c": "18 C", "abv": "11.3"}
# slug, typed, label, value, how near: worked examples unless said otherwise.
CHECKS = [
    ("gravity-correction", {"reading": "1.078", "sample_c": "34"}, "True gravity, 20/20", 1.0826, 3e-4),
    ("gravity-correction", {"reading": "1.074", "sample_c": "41"}, "True gravity, 20/20", 1.0813, 3e-4),
    ("gravity-correction", {"reading": "1,100", "sample_c": "50 F"}, "True gravity, 20/20", 1.0975, 3e-4),
    # NBS Circular 440 (1942): 20 degBx has the gravity 1.0829 at 20/20, in vacuo.
    ("scales", {"gravity": "1.0829"}, "Brix or Plato", 20.0, 0.02),
    ("strength", {"start": "1080", "finish": "0.995"}, "Strength", 11.3, 0.05),
    ("strength", {"start": "80 points", "finish": "0,995"}, "By x 131.25", 11.16, 0.005),
    ("standard-drinks", {"volume": "750 mL", "abv": "11.66"}, "Standard drinks", 8.75, 0.01),
    ("must-gravity", {"volume_l": "18", "now": "1.0826", "wanted": "1.090"}, "Sugar in place of water, at the same volume", 0.350, 0.01),
    ("sweetening", {"volume": "16.5", "now": "0.994", "wanted": "1.008"}, "Sugar to weigh", 0.613, 0.006),
    ("sweetening", {"volume": "16.5", "now": "0.994", "wanted": "1.008"}, "Sugar in a litre then", 36.3, 0.4),
    # Alcohol is conserved and OIML R22 shrinks the two litres by under 1 %: a little over 25.
    ("blending", {"volume_1": "1", "abv_1": "0", "volume_2": "1", "abv_2": "50"}, "Strength of the blend", 25.2, 0.2),
    ("syrup", {"water": "1 L", "grams": "2 kg"}, "Strength", 66.7, 0.1),
    ("sulphite", {"volume": "16.5", "ph": "3.3", "free": "8"}, "Potassium metabisulphite to weigh", 0.501, 0.002),
    ("sulphite", {"volume": "16.5", "ph": "3.3", "free": "8", "solution": "10"}, "Or of a 10 % solution", 5.0, 0.05),
    ("sulphite", {"volume": "16.5", "ph": "3.3", "free": "8"}, "Free SO2 wanted", 25.5, 0.1),
    # Stoichiometry: 1 g/L as tartaric is 0.653 g/L as sulphuric.
    ("acid", {"now": "1", "counted": "tartaric"}, "The same titration as sulphuric", 0.653, 0.001),
    # 0.9 mg of nitrogen for each of 234.8 g/L of sugar (ICUMSA SPS-4 at 1.090), less 200.
    ("nutrient", {"volume": "10", "start": "1.0900", "there": "200", "demand": "medium"}, "Missing", 11.3, 0.3),
    ("priming", DAMSON, "Sugar for each litre", 8.54, 0.17),
    ("priming", DAMSON | {"volume": "9.05"}, "For all of it", 77.3, 1.5),
    ("priming", DAMSON | {"sizes": "750, 500, 330"}, "In a bottle of 330 mL", 2.82, 0.06),
    ("pressure", {"volumes": "3", "abv": "11.3", "warmest_c": "30"}, "Over the atmosphere at 30 °C", 4.07, 0.15),
    ("pressure", {"volumes": "3", "abv": "11.3", "warmest_c": "30", "rated": "3", "fill": "500 mL", "brimful": "520 mL"}, "Most it may have", 2.39, 0.07),
    # Worked example: 22 x 750 + 1 x 375 of 16.88 L; the sum leaves 5 mL of the rounded litres.
    ("bottles", {"volume": "16881 mL", "sizes": "750, 375"}, "Bottles of 750 mL", 22, 0),
    ("bottles", {"volume": "16881 mL", "sizes": "750, 375"}, "Bottles of 375 mL", 1, 0),
    ("bottles", {"volume": "16881 mL", "sizes": "750, 375"}, "Left over", 6, 0.01),
    # Worked example: 7 x 750 + 1 x 500 + 10 x 330 of 9.05 L leave nothing.
    ("bottles", {"volume": "9.05", "sizes": "750, 500, 330", "counts": "7, 9, 12"}, "Bottles of 330 mL", 10, 0),
    ("bottles", {"volume": "9.05", "sizes": "750, 500, 330", "counts": "7, 9, 12"}, "Left over", 0, 0),
    # Worked example: fifteen bottles, where up to 150 mL may be left over.
    ("bottles", {"volume": "9.05", "sizes": "750, 500, 330", "counts": "7, 9, 12", "aim": "fewest", "spare": "150 mL"}, "In all", 15, 0),
    # Worked example: passed on day 11 with 106 degree-days.
    ("warmth", {"means": "11 12 14 13 15 16 14 17 18 16 15 17", "threshold": "100"}, "Reached on day", 11, 0),
    ("warmth", {"means": "11 12 14 13 15 16 14 17 18 16 15 17", "threshold": "100"}, "The sum then", 106, 1e-9),
    # One volume is 1.9768 g/L (CoolProp 8.0.0).
    ("fizz-units", {"volumes": "3", "abv": "11.3"}, "Grams in a litre", 5.93, 0.01),
]  # fmt: skip


def answered(slug, typed):
    form = BenchForm(typed, what=SUMS[slug])
    return form, form.answer()


@pytest.mark.parametrize(("slug", "typed", "label", "value", "near"), CHECKS)
def test_a_sum_comes_to_what_is_known_from_outside(slug, typed, label, value, near):
    form, answer = answered(slug, typed)

    assert form.errors == {}
    found = {line.label: line.figure for line in answer.lines}
    assert found[label].value == pytest.approx(value, abs=near)


@pytest.mark.parametrize("slug", [check[0] for check in CHECKS])
def test_every_figure_names_its_rule_and_source(slug):
    typed = next(check[1] for check in CHECKS if check[0] == slug)

    _, answer = answered(slug, typed)

    assert all(line.figure.rule and line.figure.source for line in answer.lines)


def test_every_sum_but_two_has_a_check():
    assert set(SUMS) - {check[0] for check in CHECKS} == {"finish", "fortifying", "sorbate"}


def test_sorbate_follows_the_house_table_and_says_what_speaks_against_it():
    _, answer = answered("sorbate", {"volume": "10 L", "abv": "11", "working": "yes"})

    # 170 mg/L of sorbic acid, 74.64 % of the salt: stoichiometry.
    assert answer.lines[0].figure.value == pytest.approx(2.278, abs=0.001)
    assert answer.remarks[0] == "Against it: yeast is still working; sorbate does not kill it."


def test_spirit_to_a_strength_comes_back_when_it_is_blended():
    _, answer = answered("fortifying", {"volume": "5", "abv": "12", "spirit": "40", "wanted": "18"})
    spirit = f"{answer.lines[0].figure.value:.6f}"

    _, mixed = answered(
        "blending", {"volume_1": "5", "abv_1": "12", "volume_2": spirit, "abv_2": "40"}
    )

    assert mixed.lines[0].figure.value == pytest.approx(18, abs=1e-3)


def test_a_yeast_that_stops_early_leaves_a_higher_finish():
    _, dry = answered("finish", {"start": "1.110"})
    _, early = answered("finish", {"start": "1.110", "bears": "12"})

    assert early.lines[0].figure.value > dry.lines[0].figure.value + 0.005


REFUSED = [
    ("strength", {"start": "1.010", "finish": "1.020"}, None, "finish 1.0200 lies above the start"),
    ("strength", {"start": "0.8", "finish": "0.995"}, "start", "0.950 to 1.200"),
    ("strength", {"start": "sweet", "finish": "0.995"}, "start", "not a gravity"),
    ("strength", {"start": "NaN", "finish": "0.995"}, "start", "not a gravity"),
    ("gravity-correction", {"reading": "1.080", "sample_c": "75 C"}, "sample_c", "0 to 60"),
    ("gravity-correction", {"reading": "1.080", "sample_c": "300"}, "sample_c", "kitchen or cellar"),
    ("gravity-correction", {"reading": "1.010", "sample_c": "21", "of": "wine"}, "start", "wanted for a wine"),
    ("sulphite", {"volume": "5", "ph": "3.3", "free": "40", "total": "30"}, "free", "cannot be more than the total"),
    ("sulphite", {"volume": "5", "ph": "9.5"}, "ph", "1.5 to 9"),
    ("sulphite", {"volume": "5", "ph": "3.8", "free": "0", "total": "190"}, "total", "over the limit of 200"),
    ("pressure", {"volumes": "3", "abv": "11", "warmest_c": "30", "fill": "780 mL"}, "fill", "leaves no room"),
    ("priming", {"volumes": "0.5", "warmest_c": "18", "abv": "11"}, None, "more than the"),
    ("priming", DAMSON | {"volume": "-3 L"}, "volume", "below zero"),
    ("priming", DAMSON | {"volume": "1 tsp"}, "volume", "spoons"),
    ("priming", DAMSON | {"sizes": "750 mL, a jug"}, "sizes", "jug"),
    ("priming", {"volumes": "inf", "warmest_c": "18", "abv": "11"}, "volumes", "not a number"),
    ("sweetening", {"volume": "5", "now": "0.996"}, None, "either the gravity wanted or the sugar"),
    ("syrup", {"water": "1 L", "grams": "9 kg"}, "grams", "0 to 0.85"),
    ("acid", {"now": "5", "counted": "vinegar"}, "counted", "vinegar"),
]  # fmt: skip


@pytest.mark.parametrize(("slug", "typed", "box", "words"), REFUSED)
def test_what_cannot_be_is_refused_at_its_box_with_the_range(slug, typed, box, words):
    form, answer = answered(slug, typed)

    said = " ".join(form.errors.get(box or "__all__", []))
    assert answer is None
    assert words in said


def test_sulphite_is_never_taken_by_the_spoon():
    assert any("never by the spoon" in caution for caution in SUMS["sulphite"].cautions)


def test_units_of_the_person_are_used_for_amounts():
    figure = next(
        line.figure
        for line in answered("priming", DAMSON | {"volume": "2 us gal"})[1].lines
        if line.label == "For all of it"
    )

    assert figures.text_of(figure) == "64.7 g"
    assert figures.text_of(figure, "imperial") == "2.28 oz"


def test_a_range_and_an_unknown_are_shown_as_such():
    strength = answered("strength", {"start": "1.080", "finish": "0.995"})[1].lines[0].figure

    assert figures.text_of(strength) == "11.3 % vol (11.0 to 11.6)"
    assert figures.text_of(unknown("g/L")) == "not known"
    assert figures.text_of(unknown("g/L", high=18.4)) == "at most 18.4 g/L"


@pytest.mark.parametrize("counts", ["9" * 6000, "22, x", "1.5, 2", "-3, 1"])
def test_a_list_of_counts_that_cannot_be_read_is_refused_at_its_box(counts):
    form, answer = answered(
        "bottles", {"volume": "9 L", "sizes": "750 mL, 375 mL", "counts": counts}
    )

    assert answer is None
    assert "no list of whole numbers" in form.errors["counts"][0]
