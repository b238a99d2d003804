from fractions import Fraction

import pytest

from inventory.measures import (
    format_quantity,
    grams,
    litres,
    mass_of,
    microlitres,
    milligrams,
    plural,
    quantity_hint,
    volume_of,
)


@pytest.mark.parametrize(
    ("milligrams", "shown"),
    [
        (0, "0 g"),
        (1, "0.001 g"),
        (501, "0.501 g"),
        (6_410, "6.41 g"),
        (77_300, "77.3 g"),
        (750_000, "750 g"),
        (999_600, "1 kg"),
        (1_312_000, "1312 g"),
        (1_250_000, "1.25 kg"),
        (2_000_000, "2 kg"),
        (2_500_000, "2.5 kg"),
        (16_925_000, "16.92 kg"),
        (1_234_500_000, "1234.5 kg"),
        (-96_000, "-96 g"),
    ],
)
def test_a_weight_is_shown_in_sensible_digits(milligrams, shown):
    assert format_quantity(milligrams, base="mg") == shown


def test_a_volume_is_shown_alike():
    assert format_quantity(16_920_000, base="uL") == "16.92 L"
    assert format_quantity(330_000, base="uL") == "330 mL"


@pytest.mark.parametrize(
    ("thousandths", "word", "shown"),
    [
        (12_000, "sachet", "12 sachets"),
        (1_000, "sachet", "1 sachet"),
        (1_000, "sachets", "1 sachet"),
        (1_500, "lemon", "1.5 lemons"),
        (0, "box", "0 boxes"),
        (3_000, None, "3 pieces"),
    ],
)
def test_pieces_are_shown_with_their_word(thousandths, word, shown):
    assert format_quantity(thousandths, base="mpc", unit=word) == shown


@pytest.mark.parametrize(
    ("milligrams", "shown"),
    [
        (453_592, "1 lb"),
        (453_500, "1 lb"),
        (566_990, "1 lb 4 oz"),
        (907_100, "2 lb"),
        (113_398, "4 oz"),
        (700_000, "1 lb 8.7 oz"),
    ],
)
def test_pounds_and_ounces_never_show_sixteen_ounces_after_a_pound(milligrams, shown):
    assert format_quantity(milligrams, base="mg", preference="imperial") == shown


@pytest.mark.parametrize(
    ("microlitres", "preference", "shown"),
    [
        (4_546_090, "imperial", "1 imp gal"),
        (4_546_090, "us", "1.2 US gal"),
        (568_262, "imperial", "1 imp pt"),
        (473_177, "us", "1 US pt"),
        (100_000, "imperial", "3.52 imp fl oz"),
        (100_000, "us", "3.38 US fl oz"),
    ],
)
def test_imperial_and_us_volumes_say_whose_they_are(microlitres, preference, shown):
    assert format_quantity(microlitres, base="uL", preference=preference) == shown


def test_the_unit_the_digits_and_the_mark_can_be_fixed():
    assert format_quantity(3_886_000, base="mg", unit="kg") == "3.886 kg"
    assert format_quantity(3_886_000, base="mg", unit="kg", digits=1) == "3.9 kg"
    assert format_quantity(2_500_000, base="mg", decimal_mark=",") == "2,5 kg"
    assert format_quantity(-400, base="mg", unit="g", digits=0) == "0 g"


def test_a_unit_of_another_kind_is_an_error():
    with pytest.raises(ValueError, match="kg"):
        format_quantity(1, base="uL", unit="kg")


def test_a_hint_gives_an_example_of_what_may_be_typed():
    assert quantity_hint("mg", "metric") == "for example 2.5 kg or 750 g"
    assert quantity_hint("mpc", "metric", "sachet") == "for example 12 sachets"


def test_words_for_several_follow_english_spelling():
    assert [plural("leaf"), plural("berry"), plural("tray")] == ["leaves", "berries", "trays"]


def test_mass_and_volume_follow_from_the_density():
    assert mass_of(500_000, density_mg_per_ul=Fraction(142, 100)) == 710_000
    assert volume_of(710_000, density_mg_per_ul=Fraction(142, 100)) == 500_000


@pytest.mark.parametrize("density", [Fraction(0), Fraction(-1), Fraction(1420)])
def test_a_density_in_the_wrong_unit_is_an_error(density):
    with pytest.raises(ValueError, match="mg per"):
        mass_of(1, density_mg_per_ul=density)


def test_chemistry_gets_litres_and_grams_and_gives_them_back():
    assert litres(18_250_000) == 18.25
    assert microlitres(18.25) == 18_250_000
    assert grams(36_300) == 36.3
    assert milligrams(36.3) == 36_300
