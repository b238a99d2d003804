"""A damson must by the worked example: figures reckoned by a separate program."""

import pytest

from inventory import items
from inventory.models import Item, Vessel
from inventory.refusals import Refusal
from planner import compositions, must_actions, must_design
from planner.models import Basis, Composition
from planner.recipes import LineDraft
from planner.wishes import Wishes

LITRE, KILO = 1_000_000, 1_000_000
DAMSONS = Item(pk=1, name="Damsons", kind="foraged", base="mg")
SUGAR = Item(pk=2, name="White sugar", kind="ingredient", base="mg")
YEAST = Item(pk=3, name="Wine yeast", kind="yeast", base="mpc")
LEMONS = Item(pk=4, name="Lemons", kind="ingredient", base="mpc")
CRAB = Item(pk=5, name="Crab apples", kind="foraged", base="mg")
NINE_PERCENT = {1: Composition(item=DAMSONS, packaged="damson", sugar=9_000, known="measured")}


def line(item, amount, basis=Basis.FIXED, *, is_fruit=False):
    return LineDraft(item=item, step="1", basis=basis, amount=amount, is_fruit=is_fruit)


FIXED = [line(DAMSONS, 5_400_000, is_fruit=True), line(SUGAR, 3_400_000), line(YEAST, 1000)]
PER_LITRE = [
    line(DAMSONS, 300_000, Basis.PER_LITRE, is_fruit=True),
    line(SUGAR, 188_889, Basis.PER_LITRE),
    line(YEAST, 1000),
]


def reckoned(lines, *, volume=18 * LITRE, own=NINE_PERCENT, wished=None, **more):
    return must_design.reckon(lines, volume_ul=volume, wished=wished or Wishes(), own=own, **more)


@pytest.mark.unit
@pytest.mark.parametrize("lines", [FIXED, PER_LITRE], ids=["fixed", "per litre"])
def test_the_must_balances_as_in_the_worked_example(lines):
    found = reckoned(lines).balance

    assert found.sugar_kg.value == pytest.approx(3.886, abs=0.001)
    assert found.sugar_g_per_l.value == pytest.approx(215.9, abs=0.1)
    assert found.gravity.value == pytest.approx(1.0828, abs=0.0003)


@pytest.mark.unit
@pytest.mark.parametrize("lines", [FIXED, PER_LITRE], ids=["fixed", "per litre"])
def test_made_heavier_at_the_same_volume_it_takes_sugar_for_water(lines):
    changed = must_actions.make_gravity(
        lines, volume_ul=18 * LITRE, gravity=1.090, by=SUGAR, own=NINE_PERCENT
    )

    after = reckoned(changed.lines)
    assert after.balance.sugar_kg.value == pytest.approx(4.227, abs=0.005)
    assert changed.water_l == pytest.approx(-0.21, abs=0.005)
    said = must_actions.difference(lines, 18 * LITRE, changed, preference="metric")
    assert said[0] == "White sugar: 341 g more, 3741 g in all."
    assert said[1] == "Water: 212 mL less."


@pytest.mark.unit
@pytest.mark.parametrize("lines", [FIXED, PER_LITRE], ids=["fixed", "per litre"])
def test_half_the_volume_takes_half_of_everything_but_the_yeast(lines):
    changed = must_actions.fit(lines, volume_ul=18 * LITRE, wanted_ul=9 * LITRE, own=NINE_PERCENT)

    design = reckoned(changed.lines, volume=changed.volume_ul)
    assert design.balance.sugar_kg.value == pytest.approx(1.943, abs=0.001)
    assert float(design.parts[0].amount) == pytest.approx(2.70 * KILO, abs=10)
    assert changed.lines[2].amount == 1000


@pytest.mark.unit
def test_the_same_ingredients_in_more_water_come_to_a_lower_gravity():
    changed = must_actions.make_volume_for(
        PER_LITRE, volume_ul=18 * LITRE, gravity=1.070, own=NINE_PERCENT
    )

    after = reckoned(changed.lines, volume=changed.volume_ul).balance
    assert after.gravity.value == pytest.approx(1.070, abs=1e-5)
    assert after.sugar_kg.value == pytest.approx(3.886, abs=0.001)


@pytest.mark.unit
def test_all_of_a_pick_is_used():
    changed = must_actions.use_all(
        PER_LITRE, volume_ul=18 * LITRE, item=DAMSONS, mass_mg=2_400_000, own=NINE_PERCENT
    )

    assert changed.volume_ul == 8 * LITRE


@pytest.mark.unit
def test_a_vessel_is_filled_up_to_its_foam_room():
    own = {1: Composition(item=DAMSONS, packaged="damson", sugar=9_000, cake=440)}
    changed = must_actions.fill(
        FIXED, volume_ul=18 * LITRE, brimful_ul=27_300_000, foam_share=0.15, own=own
    )

    room = reckoned(changed.lines, volume=changed.volume_ul, own=own).balance.with_fruit_l
    assert room.value == pytest.approx(27.3 * 0.85, abs=0.01)


@pytest.mark.unit
def test_unknown_sugar_stays_unknown_and_names_its_fruit():
    design = reckoned([line(CRAB, KILO, is_fruit=True), line(SUGAR, KILO)], volume=5 * LITRE)

    assert design.balance.gravity.value is None
    assert design.unknown == (CRAB,)
    with pytest.raises(Refusal, match="The sugar of Crab apples is not known"):
        must_actions.make_gravity(
            [line(CRAB, KILO), line(SUGAR, KILO)],
            volume_ul=5 * LITRE,
            gravity=1.09,
            by=SUGAR,
            own={},
        )


@pytest.mark.unit
def test_a_piece_without_a_weight_is_not_counted_and_with_one_is():
    lines = [line(LEMONS, 3000), line(SUGAR, KILO)]
    weighed = {4: Composition(item=LEMONS, piece=90_000, sugar=2_500, water=89_000)}

    assert reckoned(lines, volume=5 * LITRE, own={}).parts[0].why_not
    counted = reckoned(lines, volume=5 * LITRE, own=weighed)
    assert counted.ingredients[0].mass_kg == pytest.approx(0.27)


@pytest.mark.unit
def test_what_the_house_measured_stands_before_the_table():
    own = compositions.ingredient(DAMSONS, 1.0, NINE_PERCENT[1])
    table = compositions.ingredient(DAMSONS, 1.0, None)

    assert (own.sugar.value, own.sugar.known) == (9.0, "measured")
    # McCance & Widdowson, from memory: 9.6 g of sugar in 100 g of damsons.
    assert (table.sugar.value, table.sugar.known) == (9.6, "taken on trust")


@pytest.mark.unit
@pytest.mark.parametrize(
    ("name", "row"),
    [("White sugar", "white sugar"), ("Damsons", "damson"), ("Bramble", "blackberry"), ("Gin", "")],
)
def test_an_item_is_found_in_the_table_by_its_name(name, row):
    assert compositions.guess(name) == row


@pytest.mark.unit
def test_a_bucket_that_is_too_small_is_named():
    buckets = [
        Vessel(name="Small bucket", brimful=19_600_000),
        Vessel(name="Large bucket", brimful=27_300_000),
    ]
    own = {1: Composition(item=DAMSONS, packaged="damson", sugar=9_000, cake=444)}

    rooms = reckoned(FIXED, own=own, vessels=buckets).rooms

    assert [(room.vessel.name, room.word) for room in rooms] == [
        ("Small bucket", "is too small"),
        ("Large bucket", "holds it"),
    ]
    assert rooms[0].usable_l == pytest.approx(16.66, abs=0.005)


@pytest.mark.unit
def test_more_sugar_than_water_holds_is_said_and_not_a_failure():
    design = reckoned([line(SUGAR, 30 * KILO)], volume=10 * LITRE)

    assert design.balance is None
    assert "g/L" in design.refused


def test_what_is_said_of_an_item_is_kept_and_refused_where_it_cannot_be(maker):
    item = items.add_item(by=maker, name="Sloe", kind="foraged", base="mg")

    with pytest.raises(Refusal, match="more than 100 g in 100 g"):
        compositions.describe(item=item, by=maker, sugar=60_000, water=50_000)
    with pytest.raises(Refusal, match="not in the packaged table"):
        compositions.describe(item=item, by=maker, packaged="moon dust")
    compositions.describe(item=item, by=maker, sugar=8_000)

    assert compositions.by_item([item.pk])[item.pk].sugar == 8_000


def test_yeast_has_no_composition(maker, yeast):
    with pytest.raises(Refusal, match="no fruit or ingredient"):
        compositions.describe(item=yeast, by=maker, sugar=1)
