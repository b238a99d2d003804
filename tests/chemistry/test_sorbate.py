import pytest

from planner.chemistry.sorbate import dose, hindrances, usual_sorbic_acid


def test_sorbate_weighs_a_third_more_than_its_acid():
    addition = dose(sorbic_acid_mg_per_l=150, volume_l=16.9)

    # Stoichiometry: 74.64 % of potassium sorbate is sorbic acid.
    assert addition.potassium_sorbate_g == pytest.approx(16.9 * 0.150 / 0.7464, abs=0.001)


def test_a_stronger_wine_needs_less():
    weak, strong = usual_sorbic_acid(abv=10.0), usual_sorbic_acid(abv=12.0)

    assert (weak.value, strong.value) == (200.0, 135.0)
    assert strong.known == "taken on trust"


def test_the_houses_own_table_wins():
    assert usual_sorbic_acid(abv=12.0, table=((0.0, 180.0), (11.0, 120.0))).value == 120.0


def test_a_strength_below_the_houses_table_is_refused():
    with pytest.raises(ValueError, match="the table begins at 8 % vol; 5 was given"):
        usual_sorbic_acid(abv=5.0, table=((8.0, 180.0),))


def test_above_the_limit_is_refused_and_the_limit_is_the_countrys():
    with pytest.raises(ValueError, match="sorbic acid must lie within 0 to 200 mg/L"):
        dose(sorbic_acid_mg_per_l=250, volume_l=5, country="EU")

    assert dose(sorbic_acid_mg_per_l=250, volume_l=5, country="US").potassium_sorbate_g > 0


def test_nothing_speaks_against_a_quiet_sulphited_wine():
    found = hindrances(molecular_so2_mg_per_l=0.8, malolactic=False, still_working=False)

    assert found == ()


def test_all_reasons_are_told_at_once():
    found = hindrances(molecular_so2_mg_per_l=0.2, malolactic=True, still_working=True)

    assert len(found) == 3
    assert "does not kill it" in found[0]
    assert "0.20 mg/L" in found[1]


def test_unknown_sulphite_counts_as_a_reason():
    found = hindrances(molecular_so2_mg_per_l=None, malolactic=None, still_working=False)

    assert found == ("sulphite is not known; without it sorbate can turn to geranium taint",)
