import pytest

from planner.chemistry.drinks import UNIT_ML, standard_drinks


@pytest.mark.parametrize(
    ("volume_l", "abv", "units"), [(0.75, 11.66, 8.745), (0.75, 12.0, 9.0), (1.0, 40.0, 40.0)]
)
def test_units_of_the_united_kingdom(volume_l, abv, units):
    assert standard_drinks(volume_l=volume_l, abv=abv) == pytest.approx(units)


@pytest.mark.parametrize(("country", "drinks"), [("US", 5.07), ("AU", 7.10), ("JP", 3.55)])
def test_other_countries_count_in_grams(country, drinks):
    # 750 mL of 12 % vol hold 71.03 g (OIML R22); 14, 10 and 20 g to the drink.
    counted = standard_drinks(volume_l=0.75, abv=12.0, country=country)

    assert counted == pytest.approx(drinks, abs=0.01)


@pytest.mark.parametrize("country", sorted(UNIT_ML))
def test_a_unit_is_between_a_thimble_and_a_glass(country):
    assert 8.0 <= UNIT_ML[country] <= 26.0


def test_a_country_without_a_unit_is_refused():
    with pytest.raises(ValueError, match="country must be one of GB, US"):
        standard_drinks(volume_l=0.75, abv=12, country="XX")
