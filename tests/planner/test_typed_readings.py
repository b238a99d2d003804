"""However a reading is written, it is understood or refused in words."""

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.refusals import Refusal
from planner.typed_readings import parse_gravity, parse_temperature

pytestmark = pytest.mark.unit


@pytest.mark.parametrize(
    "text", ["1.085", "1,085", "1085", "85 points", "85pts", "85 Oe", "85 °Oe", " 1.085 SG "]
)
def test_a_gravity_in_any_dress(text):
    assert parse_gravity(text, name="Reading") == pytest.approx(1.085)


@pytest.mark.parametrize("text", ["20 Brix", "20 °Bx", "20 °P", "20 Plato", "20,0 brix"])
def test_sugar_scales_are_gravities_too(text):
    # ICUMSA SPS-4: 20 degBx is 1.0829 at 20/20.
    assert parse_gravity(text, name="Reading") == pytest.approx(1.0829, abs=1e-4)


@pytest.mark.parametrize(
    "text",
    ["0.8", "1.9", "85", "NaN", "inf", "-1.085", "1.085 L", "1e3", "x" * 99, "½ ½", "95 Brix"],
)
def test_what_is_no_gravity_is_refused_with_what_is(text):
    with pytest.raises(Refusal, match=r"Reading|number|gravity"):
        parse_gravity(text, name="Reading")


@pytest.mark.parametrize(
    ("text", "celsius"),
    [
        ("21", 21),
        ("21 C", 21),
        ("21°", 21),
        ("21 °C", 21),
        ("70 F", 21.11),
        ("69,8f", 21),
        ("-2", -2),
    ],
)
def test_a_temperature_in_any_dress(text, celsius):
    assert parse_temperature(text, name="At") == pytest.approx(celsius, abs=0.01)


def test_a_bare_number_is_on_the_scale_of_the_person():
    assert parse_temperature("68", name="At", fahrenheit=True) == pytest.approx(20)


@pytest.mark.parametrize("text", ["warm", "300", "-60 C", "21 K", "", "21 C 5"])
def test_what_is_no_temperature_is_refused(text):
    with pytest.raises(Refusal):
        parse_temperature(text, name="At")


@given(st.text(max_size=80))
def test_any_text_is_a_reading_or_a_refusal(text):
    for parse in (parse_gravity, parse_temperature):
        try:
            assert -30 <= parse(text, name="At") <= 110
        except Refusal as no:
            no.message.encode()
