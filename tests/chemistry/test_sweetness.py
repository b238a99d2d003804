import pytest

from planner.chemistry.sweetness import sparkling_terms, still_terms, sweetness


@pytest.mark.parametrize(
    ("sugar_g_per_l", "word"),
    [
        (0.0, "bone dry"),
        (1.9, "bone dry"),
        (2.0, "dry"),
        (4.0, "dry"),
        (4.1, "medium dry"),
        (12.0, "medium dry"),
        (12.1, "medium"),
        (36.3, "medium"),
        (44.9, "medium"),
        (45.1, "sweet"),
        (120.0, "sweet"),
    ],
)
def test_the_house_word_comes_with_its_grams(sugar_g_per_l, word):
    told = sweetness(sugar_g_per_l=sugar_g_per_l)

    assert (told.word, told.sugar_g_per_l) == (word, sugar_g_per_l)


def test_acid_lets_a_sharp_wine_count_as_dry():
    assert sweetness(sugar_g_per_l=8.0).word == "medium dry"
    assert sweetness(sugar_g_per_l=8.0, acid_tartaric_g_per_l=6.5).word == "dry"


def test_two_terms_fit_where_the_ranges_touch():
    assert still_terms(sugar_g_per_l=45.0) == ("medium (semi-sweet)", "sweet")
    assert sparkling_terms(sugar_g_per_l=17.0) == ("extra dry", "sec / dry")
    assert sparkling_terms(sugar_g_per_l=5.0) == ("extra brut", "brut")


def test_brut_nature_only_when_nothing_was_added():
    assert sparkling_terms(sugar_g_per_l=2.0, sugar_added=False)[0] == "brut nature"
    assert sparkling_terms(sugar_g_per_l=2.0)[0] == "extra brut"


@pytest.mark.parametrize("sugar_g_per_l", [0, 3, 6, 11.9, 12, 17, 32, 50, 51, 200])
def test_every_sparkling_wine_has_a_term(sugar_g_per_l):
    assert sparkling_terms(sugar_g_per_l=sugar_g_per_l)


def test_negative_sugar_is_refused():
    with pytest.raises(ValueError, match="sugar must lie within 0 to 500 g/L"):
        sweetness(sugar_g_per_l=-1.0)
