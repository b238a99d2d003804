import datetime as dt
from decimal import Decimal
from fractions import Fraction

import pytest
from django import forms
from hypothesis import given, settings
from hypothesis import strategies as st

from inventory.fields import DayField, LineField, NumberField, QuantityField, TextField
from inventory.units import Base

FRIDAY = dt.date(2026, 9, 11)
ANY_TEXT = st.text(st.characters(exclude_categories=()), max_size=80)


class PickForm(forms.Form):
    patch = LineField(most=20)
    picked = DayField(coming=False)
    net = QuantityField(zero_ok=False, label="Net weight")
    sugar_percent = NumberField(low=0, high=30, places=1, required=False)
    gravity = NumberField(
        low=Decimal("0.9"), high=Decimal("1.2"), places=3, three_places_ok=True, required=False
    )
    coldest = NumberField(low=-20, high=40, required=False)
    notes = TextField(required=False)

    def __init__(self, *args, preference="metric", decimal_mark=".", **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["net"].measure(
            Base.MG,
            preference=preference,
            density_mg_per_ul=Fraction(3, 5),
            spoons={"tsp": 4_200},
            decimal_mark=decimal_mark,
        )


@pytest.fixture(autouse=True)
def pretend_friday(settings):
    settings.PRETEND_TODAY = FRIDAY


def pick(**changed):
    return PickForm({"patch": "Beck Bottom", "picked": "today", "net": "2,3 kg"} | changed)


def test_a_form_cleans_what_people_type():
    form = pick(
        patch="  Beck   Bottom ",
        picked="24 Jun",
        net="1 lb 4 oz",
        sugar_percent="9,5",
        gravity="1,045",
        coldest="-5",
        notes="wet\r\nand cold",
    )

    assert form.errors == {}
    assert form.cleaned_data == {
        "patch": "Beck Bottom",
        "picked": dt.date(2026, 6, 24),
        "net": 566_990,
        "sugar_percent": Decimal("9.5"),
        "gravity": Decimal("1.045"),
        "coldest": Decimal("-5"),
        "notes": "wet\nand cold",
    }


def test_an_optional_number_left_empty_is_none_and_a_text_is_empty():
    form = pick(sugar_percent=" ")

    assert form.is_valid()
    assert form.cleaned_data["sugar_percent"] is None
    assert form.cleaned_data["notes"] == ""


@pytest.mark.parametrize("typed", ["", "   ", "\u200b"])
def test_a_needed_line_cannot_be_left_without_a_visible_letter(typed):
    form = pick(patch=typed)

    assert form.errors == {"patch": ["Nothing is typed here yet, and it is needed."]}


@pytest.mark.parametrize(
    ("box", "typed", "reason"),
    [
        ("net", "2 L 3", "Net weight: "),
        ("net", "0 kg", "Type an amount above zero"),
        ("net", "1,234 g", "thousands or a fraction"),
        ("net", "-1 kg", "below zero"),
        ("sugar_percent", "1_5", "Sugar percent: "),
        ("sugar_percent", "NaN", "is not a number"),
        ("sugar_percent", "1e400", "is not a number"),
        ("sugar_percent", "٣", "digits 0 to 9"),
        ("sugar_percent", "9" * 5000, "too long"),
        ("gravity", "1045", "Type a number from 0.9 to 1.2"),
        ("picked", "29 Feb 2026", "February 2026 has 28 days"),
        ("picked", "1/1/0001", "outside the years 1900 to 2199"),
        ("patch", "a\x00b", "broken letter"),
        ("patch", "a\ud800b", "broken letter"),
        ("patch", 21 * "a", "20 is the most"),
    ],
)
def test_a_refusal_stands_at_its_box_in_words(box, typed, reason):
    form = pick(**{box: typed})

    assert list(form.errors) == [box]
    assert reason in form.errors[box][0]


def test_what_was_typed_stays_in_the_box():
    assert 'value="1,234 g"' in str(pick(net="1,234 g")["net"])


def test_a_page_with_a_broken_letter_can_still_be_sent():
    assert pick(patch="a\ud800b").as_div().encode()


def test_boxes_for_numbers_bring_up_the_number_pad_unless_it_lacks_a_key_they_need():
    form = PickForm()

    assert 'type="text"' in str(form["gravity"])
    assert 'inputmode="decimal"' in str(form["gravity"])
    assert 'inputmode="text"' in str(form["coldest"])
    assert 'inputmode="text"' in str(form["net"])


def test_a_quantity_shows_an_example_in_what_the_person_likes():
    assert PickForm().fields["net"].help_text == "For example 2.5 kg or 750 g."
    assert "1 lb 4 oz" in PickForm(preference="imperial").fields["net"].help_text


def test_a_quantity_can_be_given_its_measure_at_once():
    field = QuantityField(base="mpc")

    assert field.clean("12") == 12_000


def test_a_quantity_without_a_measure_is_a_mistake_of_the_form():
    with pytest.raises(RuntimeError, match="measure"):
        QuantityField().clean("2 kg")


def test_stored_values_are_shown_so_that_they_read_back_unchanged():
    stored = {
        "patch": "Beck Bottom",
        "picked": dt.date(2026, 6, 24),
        "net": 2_025_000,
        "sugar_percent": Decimal("9.50"),
        "gravity": 1.045,
        "coldest": 0,
    }
    shown = PickForm(initial=stored, decimal_mark=",")
    typed = {name: shown[name].value() for name in stored}

    form = PickForm(typed, initial=stored)

    assert typed["picked"] == "24 Jun 2026"
    assert typed["net"] == "2025 g"
    assert form.is_valid()
    assert form.cleaned_data["net"] == 2_025_000
    assert form.cleaned_data["picked"] == dt.date(2026, 6, 24)
    assert "net" not in form.changed_data


@given(ANY_TEXT)
@settings(max_examples=150, deadline=None)
def test_any_text_in_every_box_gives_values_or_errors_and_a_page(text):
    form = PickForm(dict.fromkeys(PickForm.base_fields, text))

    assert form.is_valid() or form.errors
    assert form.as_div().encode()
