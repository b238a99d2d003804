import pytest

from planner.chemistry import figure
from planner.chemistry.sugar import sugar_of_gravity_g_per_l


def test_a_formula_gives_a_float_and_on_request_a_figure_with_its_rule():
    plain = sugar_of_gravity_g_per_l(gravity=1.070)
    told = sugar_of_gravity_g_per_l.figure(gravity=1.070)

    assert plain == pytest.approx(182.27, abs=0.01)
    assert told.value == plain
    assert (told.unit, told.known) == ("g/L", "worked out")
    assert "ICUMSA" in told.rule
    assert "ICUMSA" in told.source
    assert "0 to 85 degBx" in told.validity


def test_an_unknown_figure_has_no_value_but_may_have_bounds():
    sugar = figure.unknown("g", low=340.0)

    assert sugar.value is None
    assert not sugar.is_known
    assert sugar.low == 340.0


@pytest.mark.parametrize(
    ("value", "known"),
    [(None, "measured"), (1.0, "not known"), (1.0, "guessed")],
)
def test_a_figure_is_known_exactly_when_it_has_a_value(value, known):
    with pytest.raises(ValueError, match="known"):
        figure.Figure(value, "g", known, "", "")


def test_a_range_upside_down_is_refused():
    with pytest.raises(ValueError, match=r"low 2\.0 lies above high 1\.0"):
        figure.trusted(1.5, "g", source="a table", low=2.0, high=1.0)


def test_measured_and_trusted_say_so():
    weighed = figure.measured(1312.0, "g")
    typed = figure.trusted(9.0, "g/100 g", source="typed in")

    assert (weighed.known, typed.known) == ("measured", "taken on trust")
