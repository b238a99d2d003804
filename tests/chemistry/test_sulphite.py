import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.chemistry.sulphite import (
    check_free_and_total,
    dose,
    free_wanted_mg_per_l,
    molecular_mg_per_l,
    so2_of_salt_mg_per_l,
    thermodynamic_pk,
    total_limit_mg_per_l,
)


def test_steadying_a_wine_of_ph_3_3():
    wanted = free_wanted_mg_per_l(molecular_mg_per_l=0.8, ph=3.3)
    addition = dose(added_mg_per_l=wanted - 8, volume_l=16.5, solution_percent=10)

    assert wanted == pytest.approx(25.5, abs=0.05)
    assert addition.added_mg_per_l == pytest.approx(17.5, abs=0.05)
    assert addition.so2_mg == pytest.approx(289, abs=0.5)
    assert addition.salt_g == pytest.approx(0.501, abs=0.001)
    assert addition.solution_ml == pytest.approx(5.0, abs=0.05)


@given(st.floats(0.1, 2), st.floats(2.5, 4.5), st.floats(1.7, 2.6))
def test_molecular_to_free_and_back(molecular, ph, pk):
    free = free_wanted_mg_per_l(molecular_mg_per_l=molecular, ph=ph, pk=pk)

    if free <= 500:
        back = molecular_mg_per_l(free_mg_per_l=free, ph=ph, pk=pk)
        assert back == pytest.approx(molecular, rel=1e-12)


@given(st.floats(2.5, 4.4))
def test_a_less_sour_wine_needs_more(ph):
    sour = free_wanted_mg_per_l(molecular_mg_per_l=0.8, ph=ph)
    less = free_wanted_mg_per_l(molecular_mg_per_l=0.8, ph=ph + 0.1)

    assert less > sour


@given(st.floats(1, 200), st.floats(0.1, 1000), st.floats(0.2, 1))
def test_weighed_salt_gives_the_so2_it_was_weighed_for(added, volume_l, strength):
    addition = dose(added_mg_per_l=added, volume_l=volume_l, strength=strength)

    back = so2_of_salt_mg_per_l(
        salt_g=min(addition.salt_g, 10_000), volume_l=volume_l, strength=strength
    )
    assert back == pytest.approx(added, rel=1e-9)


def test_the_oivs_pk_asks_for_less_than_the_cautious_one():
    pk = thermodynamic_pk(abv=10, temperature_c=20)

    # Worked by a separate program: 40 mg/L with pK 1.81, 26 with 1.997.
    assert free_wanted_mg_per_l(molecular_mg_per_l=0.8, ph=3.5) == pytest.approx(40, abs=0.1)
    assert free_wanted_mg_per_l(molecular_mg_per_l=0.8, ph=3.5, pk=pk) == pytest.approx(
        26.3, abs=0.1
    )


@pytest.mark.parametrize(
    ("salt", "volume_l", "mg_per_l"),
    [
        ("potassium metabisulphite", 4.54609, 55.8),
        ("potassium metabisulphite", 3.785412, 67.0),
        ("sodium metabisulphite", 4.54609, 65.2),
    ],
)
def test_a_tablet_is_not_fifty(salt, volume_l, mg_per_l):
    given_mg = so2_of_salt_mg_per_l(salt_g=0.44, volume_l=volume_l, salt=salt)

    assert given_mg == pytest.approx(mg_per_l, abs=0.05)


@pytest.mark.parametrize(
    ("kind", "sugar", "limit"),
    [
        ("still red", 4.9, 150),
        ("still red", 5.0, 200),
        ("still white or rose", 60, 250),
        ("cider, fruit wine, made wine and mead", 60, 200),
    ],
)
def test_limits_depend_on_kind_and_sugar(kind, sugar, limit):
    assert total_limit_mg_per_l(kind=kind, sugar_g_per_l=sugar) == limit


def test_free_above_total_is_refused():
    with pytest.raises(ValueError, match="free SO2 of 60 mg/L cannot be more than the total of 40"):
        check_free_and_total(free_mg_per_l=60, total_mg_per_l=40)


def test_a_ph_no_wine_has_is_refused():
    with pytest.raises(ValueError, match=r"pH must lie within 2\.5 to 4\.5"):
        free_wanted_mg_per_l(molecular_mg_per_l=0.8, ph=7)
