"""One bottling day with fizz, worked by a separate program: 1.080 to 0.995, stood at 18 degC."""

import pytest

from planner.chemistry.alcohol import extract_abv, thumb_abv
from planner.chemistry.carbonation import (
    co2_of_sugar_g_per_l,
    co2_of_volumes_g_per_l,
    priming_by_volumes_g_per_l,
    priming_sugar_g_per_l,
    residual_co2_g_per_l,
    volumes_of_co2,
)
from planner.chemistry.pressure import gauge_bar, most_co2_g_per_l

ABV = 11.3
DOSE_G_PER_L = 8.54
RESIDUAL = co2_of_volumes_g_per_l(volumes=0.777)
SMALL = {"fill_l": 0.5, "brimful_l": 0.52, "abv": ABV}


def test_strength_by_two_methods():
    pair = {"start_gravity": 1.080, "finish_gravity": 0.995}

    assert extract_abv(**pair) == pytest.approx(11.3, abs=0.05)
    assert thumb_abv(**pair) == pytest.approx(11.16, abs=0.005)


def test_gas_still_in_and_sugar_for_three_volumes():
    residual = residual_co2_g_per_l(warmest_c=18, abv=ABV)
    dose = priming_by_volumes_g_per_l(volumes=3.0, warmest_c=18, abv=ABV)

    assert volumes_of_co2(co2_g_per_l=residual) == pytest.approx(0.777, abs=0.0005)
    assert dose == pytest.approx(DOSE_G_PER_L, abs=0.01)


@pytest.mark.parametrize(
    ("litres", "grams"), [(0.75, 6.41), (0.5, 4.27), (0.33, 2.82), (9.05, 77.3)]
)
def test_sugar_for_a_bottle_and_in_bulk(litres, grams):
    dose = priming_by_volumes_g_per_l(volumes=3.0, warmest_c=18, abv=ABV)

    assert dose * litres == pytest.approx(grams, rel=0.02)


def test_share_of_the_rating_on_the_warmest_day():
    bar = gauge_bar(
        co2_g_per_l=co2_of_volumes_g_per_l(volumes=3.0),
        fill_l=0.75,
        brimful_l=0.775,
        temperature_c=30,
        abv=ABV,
    )

    assert round(100 * bar / 6.0) == 68


@pytest.mark.parametrize(("litres", "grams"), [(1.0, 6.18), (0.5, 3.09), (0.33, 2.04)])
def test_the_most_sugar_for_a_weak_bottle(litres, grams):
    most = most_co2_g_per_l(rated_gauge_bar=3.0, temperature_c=30, **SMALL)

    dose = priming_sugar_g_per_l(target_co2_g_per_l=most, residual_co2_g_per_l=RESIDUAL)
    assert dose * litres == pytest.approx(grams, rel=0.03)


@pytest.mark.parametrize(("litres", "volumes"), [(0.75, 2.23), (0.5, 2.96), (0.33, 4.09)])
def test_one_spoon_in_every_bottle_is_three_different_wines(litres, volumes):
    gas = RESIDUAL + co2_of_sugar_g_per_l(sugar_g_per_l=4.2 / litres)

    assert volumes_of_co2(co2_g_per_l=gas) == pytest.approx(volumes, abs=0.006)


@pytest.mark.parametrize(("temperature_c", "bar"), [(20, 4.31), (30, 5.87)])
def test_a_primed_large_bottle_poured_into_a_small_one(temperature_c, bar):
    gas = RESIDUAL + co2_of_sugar_g_per_l(sugar_g_per_l=DOSE_G_PER_L * 0.75 / 0.5)

    assert volumes_of_co2(co2_g_per_l=gas) == pytest.approx(4.11, abs=0.006)
    pressed = gauge_bar(co2_g_per_l=gas, temperature_c=temperature_c, **SMALL)
    assert pressed == pytest.approx(bar, abs=0.05)
