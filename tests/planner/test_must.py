import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from planner.chemistry.composition import composition_of
from planner.chemistry.figure import measured, trusted, unknown
from planner.must import (
    Ingredient,
    bag_sugar,
    balance,
    balance_of_water,
    factor_for_pick,
    factor_for_vessel,
    fruit,
    juice,
    scaled,
    solve_sugar,
    solve_volume,
)


def damsons(mass_kg=5.40):
    return Ingredient(
        "damson",
        mass_kg,
        sugar=trusted(9.0, "g/100 g", source="typed in"),
        water=trusted(84.0, "g/100 g", source="typed in"),
        acid=trusted(2.0, "g/100 g", source="typed in"),
        acid_as="malic",
    )


DAMSON_MUST = (damsons(), bag_sugar(3.40))


def test_a_damson_must_of_18_litres():
    must = balance(DAMSON_MUST, volume_l=18.0)

    assert must.sugar_kg.value == pytest.approx(3.886, abs=0.0005)
    assert must.sugar_g_per_l.value == pytest.approx(215.9, abs=0.05)
    assert must.gravity.value == pytest.approx(1.0828, abs=0.0003)


def test_made_1_090_at_the_same_volume():
    before = balance(DAMSON_MUST, volume_l=18.0)
    raised = solve_sugar(DAMSON_MUST, volume_l=18.0, gravity=1.090)
    after = balance(raised, volume_l=18.0)

    assert after.sugar_kg.value == pytest.approx(4.227, abs=0.005)
    assert raised[1].mass_kg - 3.40 == pytest.approx(0.341, abs=0.005)
    assert before.water_l.value - after.water_l.value == pytest.approx(0.21, abs=0.005)
    assert raised[0] == DAMSON_MUST[0]


def test_scaled_to_half_the_volume():
    half = scaled(DAMSON_MUST, factor=9.0 / 18.0)
    must = balance(half, volume_l=9.0)

    assert must.sugar_kg.value == pytest.approx(1.943, abs=0.0005)
    assert half[0].mass_kg == pytest.approx(2.70)
    assert must.gravity.value == pytest.approx(balance(DAMSON_MUST, volume_l=18.0).gravity.value)


def test_unknown_sugar_leaves_the_gravity_unknown_but_says_at_least():
    must = balance((Ingredient("bramble", 4.0), bag_sugar(3.0)), volume_l=15.0)

    assert must.gravity.known == "not known"
    assert must.gravity.value is None
    # 3 kg of bag sugar alone in 15 L is 200 g/L.
    assert must.sugar_g_per_l.low == pytest.approx(200.0)
    assert must.sugar_g_per_l.high is None


def test_a_range_in_the_fruit_is_a_range_in_the_gravity():
    sugar = trusted(4.88, "g/100 g", source="table", low=2.68, high=7.4)
    must = balance((Ingredient("bramble", 4.0, sugar=sugar), bag_sugar(3.0)), volume_l=15.0)

    assert must.gravity.low < must.gravity.value < must.gravity.high
    assert must.sugar_kg.low == pytest.approx(3.107, abs=0.001)


def test_the_persons_own_measurement_replaces_print():
    printed = fruit(composition_of("damson"), 5.40)
    own = Ingredient("damson", 5.40, sugar=measured(12.0, "g/100 g"))

    told = balance((own,), volume_l=10.0).sugar_kg
    assert balance((printed,), volume_l=10.0).sugar_kg.source == "damson: taken on trust"
    assert told.source == "damson: measured"


def test_acid_is_counted_as_tartaric_whatever_it_is():
    must = balance(DAMSON_MUST, volume_l=18.0)

    # 108 g of malic acid in 18 L, x 1.1193.
    assert must.acid_g_per_l.value == pytest.approx(6.716, abs=0.002)
    assert must.acid_g_per_l.unit == "g/L as tartaric"
    assert must.tannin_g_per_l.known == "not known"


def test_water_of_the_fruit_need_not_be_poured():
    dry = Ingredient("raisin", 0.0, sugar=trusted(0.0, "g/100 g", source="none"))
    plain = balance((bag_sugar(3.886), dry), volume_l=18.0)
    with_fruit = balance(DAMSON_MUST, volume_l=18.0)

    assert plain.water_l.value - with_fruit.water_l.value == pytest.approx(5.40 * 0.84, abs=0.01)


def test_unknown_water_in_the_fruit_bounds_what_to_pour():
    unknown_water = Ingredient("damson", 5.40, sugar=trusted(9.0, "g/100 g", source="typed in"))

    water = balance((unknown_water, bag_sugar(3.40)), volume_l=18.0).water_l

    assert water.value is None
    assert water.low < 11.2 < water.high


def test_room_before_pressing_uses_the_cake_when_it_is_known():
    known = Ingredient(
        "damson",
        5.40,
        sugar=trusted(9.0, "g/100 g", source="typed in"),
        cake=measured(0.44, "L/kg"),
    )

    assert balance((known,), volume_l=18.0).with_fruit_l.value == pytest.approx(20.376)
    assert balance((damsons(),), volume_l=18.0).with_fruit_l.high == pytest.approx(23.40)


@settings(deadline=None, derandomize=True)
@given(st.floats(0.5, 20), st.floats(0, 10), st.floats(1, 50))
def test_mass_is_conserved_between_water_and_volume(fruit_kg, sugar_kg, water_l):
    parts = (damsons(fruit_kg), bag_sugar(sugar_kg))

    by_water = balance_of_water(parts, water_l=water_l)
    by_volume = balance(parts, volume_l=by_water.volume_l.value)

    assert by_volume.water_l.value == pytest.approx(water_l, abs=1e-6)
    assert by_volume.gravity.value == pytest.approx(by_water.gravity.value, abs=1e-9)
    dissolved_kg = by_water.volume_l.value * by_water.gravity.value * 0.99820312
    assert dissolved_kg == pytest.approx(
        water_l * 0.99820312 + 0.93 * fruit_kg + sugar_kg, rel=1e-7
    )


@settings(deadline=None, derandomize=True)
@given(st.floats(1.06, 1.15), st.floats(12, 40))
def test_solving_for_sugar_gives_the_gravity(gravity, volume_l):
    solved = solve_sugar(DAMSON_MUST, volume_l=volume_l, gravity=gravity)

    told = balance(solved, volume_l=volume_l).gravity.value
    assert told == pytest.approx(gravity, abs=1e-9)


@settings(deadline=None, derandomize=True)
@given(st.floats(1.03, 1.15))
def test_solving_for_volume_gives_the_gravity(gravity):
    volume_l = solve_volume(DAMSON_MUST, gravity=gravity)

    told = balance(DAMSON_MUST, volume_l=volume_l).gravity.value
    assert told == pytest.approx(gravity, abs=1e-9)


def test_honey_may_be_what_is_changed():
    honey = fruit(composition_of("honey"), 5.0)

    solved = solve_sugar((honey,), volume_l=20.0, gravity=1.090, adjust="honey")

    # 4.696 kg of sugar at 82.12 %.
    assert solved[0].mass_kg == pytest.approx(5.719, abs=0.005)


def test_juice_by_the_litre_brings_its_own_water():
    apple = juice("apple juice", volume_l=9.0, gravity=1.050, source="typed in")

    must = balance_of_water((apple,), water_l=0.0)

    assert must.volume_l.value == pytest.approx(9.0)
    assert must.gravity.value == pytest.approx(1.050)


def test_more_fruit_sugar_than_wanted_is_refused_with_the_way_out():
    with pytest.raises(ValueError, match="make more must or use less of them"):
        solve_sugar(DAMSON_MUST, volume_l=1.0, gravity=1.090)


def test_solving_with_an_unknown_sugar_names_it():
    with pytest.raises(ValueError, match="the sugar of bramble is not known: measure it"):
        solve_sugar((Ingredient("bramble", 4.0), bag_sugar(3.0)), volume_l=15.0, gravity=1.080)


def test_solving_by_something_without_sugar_is_refused():
    petals = Ingredient("gorse", 1.0, sugar=trusted(0.0, "g/100 g", source="common practice"))

    with pytest.raises(ValueError, match="gorse brings no sugar"):
        solve_sugar((petals, bag_sugar(1.0)), volume_l=4.5, gravity=1.080, adjust="gorse")


def test_all_of_a_pick_is_used():
    assert factor_for_pick(DAMSON_MUST, name="damson", mass_kg=3.24) == pytest.approx(0.6)


def test_a_vessel_keeps_its_foam_room():
    # 27.3 L brimful less 15 % is 23.2 L; the must with fruit wants 20.4.
    factor = factor_for_vessel(needs_l=20.4, brimful_l=27.3, foam_share=0.15)

    assert factor == pytest.approx(23.205 / 20.4)


def test_a_share_above_the_whole_is_refused():
    with pytest.raises(ValueError, match="sugar of damson must lie within 0 to 100"):
        Ingredient("damson", 1.0, sugar=trusted(109.0, "g/100 g", source="typed in"))


def test_water_wanted_with_unknown_fruit_leaves_the_volume_unknown():
    must = balance_of_water((Ingredient("bramble", 4.0, sugar=unknown("g/100 g")),), water_l=10.0)

    assert must.volume_l.known == "not known"
    assert must.gravity.known == "not known"
