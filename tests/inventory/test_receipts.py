"""Goods on their way: expected, arriving whole or in part, moved, cancelled, and all of it undone."""

import datetime as dt

import pytest

from inventory import activity, ledger, receipts
from inventory.models import Activity, Lot
from inventory.refusals import Refusal
from tests.conftest import FIRST_MONDAY, KILO

WEEK_4 = dt.date(2026, 4, 27)


@pytest.fixture
def parcel(sugar, maker):
    return receipts.expect(item=sugar, quantity=2 * KILO, due=WEEK_4, by=maker)


def undo_latest(by, verb):
    activity.undo(activity=Activity.objects.filter(verb=verb).first(), by=by)


def test_what_is_expected_comes_from_the_items_shop_unless_told_otherwise(parcel, sugar, maker):
    other = receipts.expect(item=sugar, quantity=KILO, due=WEEK_4, by=maker, shop="The mill")

    assert (parcel.shop, other.shop) == ("The corner shop", "The mill")
    assert parcel.state == "expected"


def test_a_whole_parcel_becomes_a_lot_and_is_expected_no_longer(parcel, maker):
    lot = receipts.arrive(receipt=parcel, quantity=2 * KILO, on=WEEK_4, by=maker, cost=230)

    parcel.refresh_from_db()
    assert (parcel.state, parcel.lot, parcel.quantity) == ("arrived", lot, 2 * KILO)
    assert (lot.origin, lot.cost, ledger.on_hand(lot)) == ("The corner shop", 230, 2 * KILO)


def test_of_a_parcel_that_came_in_part_the_rest_stays_expected(parcel, maker):
    receipts.arrive(receipt=parcel, quantity=KILO // 2, on=WEEK_4, by=maker)

    parcel.refresh_from_db()
    assert (parcel.state, parcel.quantity, parcel.lot) == ("expected", 1_500_000, None)


def test_more_than_expected_is_taken_in_and_nothing_is_expected_any_more(parcel, maker):
    lot = receipts.arrive(receipt=parcel, quantity=3 * KILO, on=WEEK_4, by=maker)

    parcel.refresh_from_db()
    assert (parcel.state, ledger.on_hand(lot)) == ("arrived", 3 * KILO)


def test_what_arrived_or_was_cancelled_cannot_arrive_again(parcel, maker):
    receipts.arrive(receipt=parcel, quantity=2 * KILO, on=WEEK_4, by=maker)

    with pytest.raises(Refusal, match="not on its way any more: arrived"):
        receipts.arrive(receipt=parcel, quantity=KILO, on=WEEK_4, by=maker)
    with pytest.raises(Refusal, match="not on its way any more: arrived"):
        receipts.cancel(receipt=parcel, by=maker)
    assert Lot.objects.count() == 1


def test_two_part_arrivals_can_be_taken_back_in_either_order(parcel, maker):
    receipts.arrive(receipt=parcel, quantity=500_000, on=WEEK_4, by=maker)
    receipts.arrive(receipt=parcel, quantity=1_500_000, on=WEEK_4, by=maker)
    last, first = Activity.objects.filter(verb="receive")

    activity.undo(activity=first, by=maker)
    parcel.refresh_from_db()
    halfway = parcel.state, parcel.quantity, parcel.lot
    activity.undo(activity=last, by=maker)

    parcel.refresh_from_db()
    assert halfway == ("expected", 500_000, None)
    assert (parcel.state, parcel.quantity) == ("expected", 2_000_000)
    assert ledger.stock() == {parcel.item_id: 0}


def test_taking_back_the_line_takes_the_arrival_back_too(parcel, maker):
    lot = receipts.arrive(receipt=parcel, quantity=2 * KILO, on=WEEK_4, by=maker)

    ledger.undo(movement=lot.movements.get(), by=maker)

    parcel.refresh_from_db()
    assert (parcel.state, parcel.quantity, parcel.lot) == ("expected", 2 * KILO, None)


def test_cancelling_and_its_undo(parcel, maker):
    receipts.cancel(receipt=parcel, by=maker)
    cancelled = parcel.__class__.objects.get().state
    undo_latest(maker, "cancel")

    parcel.refresh_from_db()
    assert (cancelled, parcel.state) == ("cancelled", "expected")


def test_moving_and_its_undo(parcel, maker):
    receipts.move(receipt=parcel, due=dt.date(2026, 5, 4), by=maker)
    moved = parcel.__class__.objects.get().due
    undo_latest(maker, "move")

    parcel.refresh_from_db()
    assert (moved, parcel.due) == (dt.date(2026, 5, 4), WEEK_4)
    said = Activity.objects.filter(verb="move").get().summary
    assert said == "White sugar is now due 4 May 2026, not 27 Apr 2026"


def test_expecting_can_be_undone_until_it_arrives(parcel, maker):
    undo_latest(maker, "expect")
    parcel.refresh_from_db()

    assert parcel.state == "cancelled"


def test_expecting_cannot_be_undone_once_it_arrived(parcel, maker):
    receipts.arrive(receipt=parcel, quantity=2 * KILO, on=WEEK_4, by=maker)

    with pytest.raises(Refusal, match="not on its way any more"):
        undo_latest(maker, "expect")


def test_a_parcel_of_one_item_cannot_be_received_as_another(parcel, lemons, maker):
    with pytest.raises(Refusal, match="is not Lemons"):
        ledger.receive(item=lemons, quantity=1000, on=FIRST_MONDAY, by=maker, receipt=parcel)


def test_nonsense_is_refused_before_the_database_is_asked(sugar, maker):
    with pytest.raises(Refusal, match="more than nothing"):
        receipts.expect(item=sugar, quantity=0, due=WEEK_4, by=maker)
    with pytest.raises(Refusal, match="between 1900 and 2199"):
        receipts.expect(item=sugar, quantity=1, due=dt.date(2200, 1, 1), by=maker)
    with pytest.raises(Refusal, match="80 characters"):
        receipts.expect(item=sugar, quantity=1, due=WEEK_4, by=maker, shop="x" * 81)
