"""The sums of walk-throughs 7, 9 and 10 on a phone, typed into the bench."""

import re

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import PHONE


@pytest.fixture
def bench(signed_in, live_server):
    """Opens a sum by its name and types into its boxes."""
    page = signed_in
    page.set_viewport_size(PHONE)

    def fill(title, **typed):
        page.goto(f"{live_server.url}/bench/")
        page.get_by_role("link", name=title).click()
        for label, text in typed.items():
            page.get_by_label(label.replace("_", " "), exact=True).fill(text)
        return page.get_by_role("region", name="Answer")

    return fill


@pytest.mark.parametrize(
    ("reading", "at", "true"),
    [("1.078", "34", "1.0826"), ("1.074", "41 C", "1.0813"), ("1,100", "50 F", "1.0975")],
)
def test_a_hydrometer_is_corrected_as_it_is_typed(bench, reading, at, true):
    answer = bench(
        "Hydrometer at another temperature", Reading=reading, Temperature_of_the_sample=at
    )

    expect(answer).to_contain_text(re.compile(rf"True gravity, 20/20\s+{true}"))


def test_strength_names_its_method_and_the_others(bench, signed_in):
    answer = bench("How strong is it", Start_gravity="1.080", Gravity_now="0.995")

    expect(answer).to_contain_text("11.3 % vol (11.0 to 11.6)")
    expect(answer).to_contain_text("By x 131.25")
    expect(answer).to_contain_text("11.2 % vol")
    # What was typed is the address: it can be kept and opened again.
    expect(signed_in).to_have_url(signed_in.url.split("?")[0] + "?start=1.080&finish=0.995")


def test_priming_by_the_bottle_and_in_bulk(bench):
    answer = bench(
        "Sugar for the fizz",
        **{
            "Fizz wanted, in volumes": "3",
            "Warmest it has been since it stopped working": "18 C",
            "Strength, % vol": "11.3",
            "All of the wine": "9.05 L",
            "Bottle sizes": "750 mL, 500 mL, 330 mL",
        },
    )

    for words in ("6.41 g", "4.27 g", "2.82 g", "77.3 g"):
        expect(answer).to_contain_text(words)


def test_a_crown_capped_bottle_is_over_its_rating_and_says_what_it_may_have(bench):
    answer = bench(
        "Pressure in a bottle",
        **{
            "Gas in it, in volumes": "3",
            "Filled with": "500 mL",
            "Holds to the brim": "520 mL",
            "Strength, % vol": "11.3",
            "Warmest place it will lie": "30 C",
            "Rated gauge pressure of the weaker of bottle and closure, bar": "3",
        },
    )

    expect(answer).to_contain_text("Over the rating: stop")
    # The worked example has 2.39 within 3 %.
    expect(answer).to_contain_text(re.compile(r"2\.3[5-9] volumes"))


def test_steadying_and_sweetening(bench):
    sulphite = bench(
        "Sulphite",
        **{
            "Volume": "16.5 L",
            "pH": "3.3",
            "Free SO2 now, mg/L": "8",
            "Stock solution, g in 100 mL": "10",
        },
    )
    # The worked example weighs 0.501 g from the rounded 289 mg; unrounded it is 0.5018 g.
    for words in ("0.502 g", "5.02 mL", "25.5 mg/L", "289 mg"):
        expect(sulphite).to_contain_text(words)

    sweet = bench("Sweetening", Volume="16.5 L", Gravity_now="0.994", Gravity_wanted="1.008")
    for words in ("613 g", "16.88 L", "36.3 g/L", "Medium"):
        expect(sweet).to_contain_text(words)


def test_what_cannot_be_is_said_where_the_answer_stands(bench):
    answer = bench("How strong is it", Start_gravity="1.010", Gravity_now="1.020")

    expect(answer.get_by_role("alert")).to_contain_text("lies above the start")


def test_the_sweetened_wine_is_steadied_and_filled(bench):
    sorbate = bench("Sorbate", **{"Volume": "16.88 L", "Strength, % vol": "11.3"})
    expect(sorbate).to_contain_text("to weigh")

    answer = bench(
        "How many bottles", **{"To be filled": "16881 mL", "Bottle sizes": "750 mL, 375 mL"}
    )

    expect(answer).to_contain_text(re.compile(r"Bottles of 750 mL\s+22 bottles"))
    expect(answer).to_contain_text(re.compile(r"Bottles of 375 mL\s+1 bottle"))
    expect(answer).to_contain_text(re.compile(r"Left over\s+6.00 mL"))
