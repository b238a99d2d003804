import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.chemistry.nutrients import (
    dap_limit_g_per_l,
    feeding,
    need,
    need_mg_per_l,
    nitrogen_of_nutrient_mg_per_l,
    nutrient_to_add_g,
    target_mg_per_l,
)


@given(st.floats(1, 400), st.floats(0.5, 100), st.floats(0.02, 0.5))
def test_nutrient_weighed_for_a_lack_fills_it(missing, volume_l, share):
    grams = nutrient_to_add_g(missing_mg_per_l=missing, volume_l=volume_l, nitrogen_share=share)

    back = nitrogen_of_nutrient_mg_per_l(
        nutrient_g=min(grams, 10_000), volume_l=volume_l, nitrogen_share=share
    )
    assert back == pytest.approx(missing)


def test_the_need_is_a_range_until_the_strain_is_known():
    unknown = need(sugar_g_per_l=200)
    known = need(sugar_g_per_l=200, demand="high")

    assert (unknown.low, unknown.value, unknown.high) == (150.0, 180.0, 250.0)
    assert (known.low, known.value) == (None, 250.0)


def test_strain_and_ripeness_rules_are_of_one_size():
    # 23 degBx is 252 g/L: 227 by a medium strain, 250 by ripeness.
    assert need_mg_per_l(sugar_g_per_l=252, demand="medium") == pytest.approx(226.8)
    assert target_mg_per_l(brix=23) == 250


def test_nutrient_is_split_and_stops_at_a_third():
    plan = feeding(total_g=6.0, start_gravity=1.090, finish_gravity=1.000)

    assert [(stage.hours, stage.grams) for stage in plan.stages] == [(24, 2), (48, 2), (72, 2)]
    assert plan.last_gravity == pytest.approx(1.060)


def test_shares_add_up_to_the_whole():
    plan = feeding(total_g=5.0, start_gravity=1.090, finish_gravity=0.995, stages=2)

    assert sum(stage.grams for stage in plan.stages) == pytest.approx(5.0)


@pytest.mark.parametrize(("country", "limit"), [("EU", 1.0), ("US", 0.9586)])
def test_limits_of_diammonium_phosphate(country, limit):
    assert dap_limit_g_per_l(country=country) == limit


def test_ripeness_outside_the_table_is_refused():
    with pytest.raises(ValueError, match="Brix must lie within 21 to 27 degBx"):
        target_mg_per_l(brix=18)
