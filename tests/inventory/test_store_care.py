"""A wash session, what fades, what stands in, what was paid, and a whole shop ordered at once."""

import datetime as dt

import pytest

from inventory import activity, glass, items, ledger, overview, shopping, substitutes, vessels
from inventory.models import Activity, Receipt, Requirement, Substitute
from inventory.refusals import Refusal
from tests.conftest import FIRST_MONDAY, KILO, PIECE


@pytest.fixture
def bottles(house, maker):
    found = []
    for name, dirty in (("Bottle 750", 8), ("Bottle 330", 3)):
        item = items.add_item(by=maker, name=name, kind="bottle", base="mpc")
        glass.move(item=item, count=dirty, source="", target="dirty", on=FIRST_MONDAY, by=maker)
        found.append(item)
    return found


def test_one_session_at_the_sink_washes_several_kinds_and_is_undone_whole(bottles, maker):
    big, small = bottles
    counts = {big.pk: 5, small.pk: 3}

    assert glass.wash_all(counts=counts, on=FIRST_MONDAY, by=maker) == 8
    states = glass.counts(counts)
    assert [(states[key]["clean"], states[key]["dirty"]) for key in counts] == [(5, 3), (3, 0)]

    activity.undo(activity=Activity.objects.filter(verb="glass").latest("pk"), by=maker)
    states = glass.counts(counts)
    assert [states[key]["dirty"] for key in counts] == [8, 3]


def test_more_than_are_dirty_washes_none(bottles, maker):
    big, small = bottles

    with pytest.raises(Refusal, match="4 of Bottle 330 wanted, 3 are dirty"):
        glass.wash_all(counts={big.pk: 5, small.pk: 4}, on=FIRST_MONDAY, by=maker)
    with pytest.raises(Refusal, match="Say how many"):
        glass.wash_all(counts={big.pk: 0}, on=FIRST_MONDAY, by=maker)

    assert glass.counts([big.pk])[big.pk]["clean"] == 0


def test_old_sulphite_is_said_to_have_faded(sugar, maker):
    sugar.fades_percent = 20
    sugar.save()
    lot = ledger.receive(item=sugar, quantity=KILO, on=FIRST_MONDAY, by=maker)

    days = [overview.strength_left(lot, FIRST_MONDAY + dt.timedelta(days=n)) for n in (0, 365, 731)]

    assert days == [100, 80, 64]


def test_what_is_supposed_of_nothing_is_not_said(sugar, maker):
    lot = ledger.receive(item=sugar, quantity=KILO, on=FIRST_MONDAY, by=maker)

    assert overview.strength_left(lot, FIRST_MONDAY) is None


def test_prices_are_by_the_pack_the_newest_first(sugar, maker):
    for day, kilos, paid in ((0, 2, 240), (7, 1, 135)):
        on = FIRST_MONDAY + dt.timedelta(days=day)
        ledger.receive(item=sugar, quantity=kilos * KILO, on=FIRST_MONDAY, by=maker, cost=paid)
        sugar.lots.latest("pk").movements.get()
        sugar.lots.filter(pk=sugar.lots.latest("pk").pk).update(received=on)

    assert [price.each for price in overview.prices_of(sugar)] == [135, 120]


@pytest.fixture
def honey(maker):
    return items.add_item(by=maker, name="Honey", kind="ingredient", base="mg")


def test_honey_stands_in_for_sugar_by_its_factor(sugar, honey, maker):
    ledger.receive(item=honey, quantity=KILO, on=FIRST_MONDAY, by=maker)

    row = substitutes.name(item=sugar, other=honey, factor=1300, by=maker)

    assert substitutes.of_item(sugar) == [(row, KILO)]
    assert row.amount(2 * KILO) == 2_600_000
    with pytest.raises(Refusal, match="already"):
        substitutes.name(item=sugar, other=honey, factor=1, by=maker)
    activity.undo(activity=Activity.objects.get(undo="substitutes.name"), by=maker)
    assert not Substitute.objects.exists()


@pytest.mark.parametrize("factor", [0, -1, 1_000_001])
def test_a_factor_beyond_reason_is_refused(sugar, honey, maker, factor):
    with pytest.raises(Refusal, match="factor"):
        substitutes.name(item=sugar, other=honey, factor=factor, by=maker)


def test_nothing_stands_in_for_itself(sugar, maker):
    with pytest.raises(Refusal, match="another item"):
        substitutes.name(item=sugar, other=sugar, factor=1000, by=maker)


def test_all_of_a_shop_is_ordered_at_once(sugar, lemons, yeast, maker):
    day = FIRST_MONDAY + dt.timedelta(days=14)
    for item in (sugar, lemons, yeast):
        Requirement.objects.create(
            item=item, day=day, quantity=2 * KILO if item == sugar else PIECE, label="jam"
        )

    rows = shopping.order(shop="The corner shop", due=day, today=FIRST_MONDAY, by=maker)

    assert {row.item for row in rows} == {sugar, lemons}
    assert Receipt.objects.count() == len(rows)
    assert [shop.name for shop in shopping.shopping_list(today=FIRST_MONDAY)] == [
        "The brew cupboard"
    ]
    with pytest.raises(Refusal, match="any more"):
        shopping.order(shop="The corner shop", due=day, today=FIRST_MONDAY, by=maker)


def test_no_order_comes_yesterday(sugar, maker):
    Requirement.objects.create(item=sugar, day=FIRST_MONDAY, quantity=KILO, label="jam")

    with pytest.raises(Refusal, match="over"):
        shopping.order(
            shop="The corner shop",
            due=FIRST_MONDAY - dt.timedelta(days=1),
            today=FIRST_MONDAY,
            by=maker,
        )


def test_a_jar_is_lent_comes_back_dirty_and_is_washed(jar, maker):
    vessels.lend(vessel=jar, to="Nan", by=maker, back_by=FIRST_MONDAY)
    jar.refresh_from_db()
    assert (jar.word, jar.lent_to) == ("away", "Nan")
    with pytest.raises(Refusal, match="with Nan already"):
        vessels.lend(vessel=jar, to="Ned", by=maker)

    vessels.take_back(vessel=jar, by=maker)
    jar.refresh_from_db()
    assert jar.word == "to be washed"

    vessels.wash(vessel=jar, by=maker)
    jar.refresh_from_db()
    assert jar.word == "kept ready"
    activity.undo(activity=Activity.objects.filter(verb="wash").latest("pk"), by=maker)
    jar.refresh_from_db()
    assert jar.to_wash
