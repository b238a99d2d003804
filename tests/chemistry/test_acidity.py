import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.chemistry.acidity import (
    EQUIVALENT_G,
    acid_to_add_g,
    base_to_add_g,
    convert_g_per_l,
    of_milliequivalents_g_per_l,
    water_to_thin_l,
)

ACIDS = st.sampled_from(sorted(EQUIVALENT_G))


@given(st.floats(0, 40), ACIDS, ACIDS)
def test_one_acid_to_another_and_back(grams, one, other):
    there = convert_g_per_l(acid_g_per_l=grams, from_acid=one, to_acid=other)

    back = convert_g_per_l(acid_g_per_l=there, from_acid=other, to_acid=one)
    assert back == pytest.approx(grams)


def test_the_french_figure_looks_smaller():
    # Tartaric is 1.53 times sulphuric.
    sulphuric = convert_g_per_l(acid_g_per_l=6.5, from_acid="tartaric", to_acid="sulphuric")

    assert 6.5 / sulphuric == pytest.approx(1.53, abs=0.005)


def test_a_titration_in_milliequivalents():
    assert of_milliequivalents_g_per_l(milliequivalents_per_l=100, acid="citric") == pytest.approx(
        6.404, abs=0.001
    )


def test_raising_with_another_acid_than_the_count():
    # 2 g/L as tartaric over 10 L is 17.87 g of malic acid (x 67.04/75.04).
    grams = acid_to_add_g(volume_l=10, rise_g_per_l=2, counted_as="tartaric", acid="malic")

    assert grams == pytest.approx(17.87, abs=0.01)


@pytest.mark.parametrize(
    ("base", "falls", "grams"),
    [
        ("potassium bicarbonate", False, 13.34),
        ("potassium bicarbonate", True, 6.67),
        ("calcium carbonate", False, 6.67),
    ],
)
def test_lowering_by_one_gram_in_ten_litres(base, falls, grams):
    dose = base_to_add_g(volume_l=10, drop_g_per_l=1, base=base, bitartrate_falls=falls)

    assert dose == pytest.approx(grams, abs=0.02)


def test_chalk_takes_no_bitartrate_with_it():
    with pytest.raises(ValueError, match="only potassium salts"):
        base_to_add_g(volume_l=10, drop_g_per_l=1, base="calcium carbonate", bitartrate_falls=True)


def test_too_large_a_drop_in_one_go_is_refused():
    with pytest.raises(ValueError, match="drop must lie within 0 to 4 g/L"):
        base_to_add_g(volume_l=10, drop_g_per_l=6)


@given(st.floats(1, 50), st.floats(2, 30), st.floats(0.1, 1))
def test_thinning_keeps_the_acid_there_was(volume_l, acid, share):
    water_l = water_to_thin_l(volume_l=volume_l, acid_g_per_l=acid, target_g_per_l=acid * share)

    assert (volume_l + water_l) * acid * share == pytest.approx(volume_l * acid)


def test_an_acid_without_a_name_is_refused():
    with pytest.raises(ValueError, match="acid must be one of tartaric, malic"):
        convert_g_per_l(acid_g_per_l=6, from_acid="acid", to_acid="tartaric")
