"""Promises: dealt first expired first out, put by by hand, used and given back."""

import datetime as dt

import pytest

from inventory import activity, ledger, receipts, requirements, reservations
from inventory.models import Activity, Reservation
from inventory.refusals import Refusal
from tests.conftest import FIRST_MONDAY, KILO

MAY = dt.date(2026, 5, 4)
JUNE = dt.date(2026, 6, 1)


@pytest.fixture
def old(sugar, maker):
    return ledger.receive(
        item=sugar, quantity=KILO, on=FIRST_MONDAY, by=maker, use_by=dt.date(2026, 5, 31)
    )


@pytest.fixture
def new(sugar, maker):
    return ledger.receive(item=sugar, quantity=KILO, on=FIRST_MONDAY, by=maker)


@pytest.fixture
def gorse(sugar, maker):
    return requirements.need(item=sugar, quantity=600_000, day=MAY, label="Gorse", by=maker)


@pytest.fixture
def rhubarb(sugar, maker):
    return requirements.need(item=sugar, quantity=700_000, day=JUNE, label="Rhubarb", by=maker)


def promises():
    rows = Reservation.objects.order_by("requirement", "lot")
    return [(row.requirement.label, row.lot.mark, row.quantity) for row in rows]


def test_the_first_to_expire_goes_to_the_earliest_need_while_it_is_good(old, new, gorse, rhubarb):
    assert promises() == [("Gorse", "WS-0001", 600_000), ("Rhubarb", "WS-0002", 700_000)]


def test_dealing_again_touches_nothing_and_a_change_only_what_differs(
    old, new, gorse, rhubarb, sugar, maker
):
    kept = Reservation.objects.get(requirement=gorse).pk

    again = reservations.deal(items=[sugar.pk])
    requirements.move(moves={rhubarb.pk: dt.date(2026, 5, 11)}, by=maker)

    assert again == 0
    assert Reservation.objects.get(requirement=gorse).pk == kept
    assert promises() == [
        ("Gorse", "WS-0001", 600_000),
        ("Rhubarb", "WS-0001", 400_000),
        ("Rhubarb", "WS-0002", 300_000),
    ]


def test_what_is_on_its_way_is_promised_only_when_it_is_here(gorse, sugar, maker):
    parcel = receipts.expect(item=sugar, quantity=KILO, due=dt.date(2026, 4, 27), by=maker)
    before = promises()

    receipts.arrive(receipt=parcel, quantity=KILO, on=dt.date(2026, 4, 27), by=maker)

    assert (before, promises()) == ([], [("Gorse", "WS-0001", 600_000)])


def test_what_is_put_by_by_hand_stays_there(old, new, gorse, rhubarb, maker):
    reservations.reserve(lot=new, requirement=gorse, quantity=600_000, by=maker)

    assert promises() == [("Gorse", "WS-0002", 600_000), ("Rhubarb", "WS-0002", 400_000)]
    assert Reservation.objects.get(by_hand=True).lot == new


def test_putting_by_and_releasing_can_be_undone(old, new, gorse, maker):
    by_hand = reservations.reserve(lot=new, requirement=gorse, quantity=600_000, by=maker)
    reservations.release(reservation=by_hand, by=maker)
    released = promises()
    undo_latest(maker)
    put_by_again = promises()
    activity.undo(activity=Activity.objects.filter(verb="reserve").first(), by=maker)

    assert released == promises() == [("Gorse", "WS-0001", 600_000)]
    assert put_by_again == [("Gorse", "WS-0002", 600_000)]


def undo_latest(by):
    latest = Activity.objects.exclude(undo="").filter(undone_by=None).first()
    activity.undo(activity=latest, by=by)


def test_putting_by_refuses_what_cannot_be_kept(old, new, gorse, rhubarb, maker):
    reservations.reserve(lot=new, requirement=gorse, quantity=600_000, by=maker)

    with pytest.raises(Refusal, match="500 g wanted, 400 g free in WS-0002"):
        reservations.reserve(lot=new, requirement=rhubarb, quantity=500_000, by=maker)
    with pytest.raises(Refusal, match="Gorse asks for no more than 0 g"):
        reservations.reserve(lot=old, requirement=gorse, quantity=1000, by=maker)
    with pytest.raises(Refusal, match="WS-0001 is past its date on the day of Rhubarb"):
        reservations.reserve(lot=old, requirement=rhubarb, quantity=1000, by=maker)


def test_what_the_lot_no_longer_holds_cannot_stay_put_by_and_is_said(new, gorse, maker):
    reservations.reserve(lot=new, requirement=gorse, quantity=600_000, by=maker)

    ledger.count(lot=new, counted=250_000, on=FIRST_MONDAY, by=maker)

    assert promises() == [("Gorse", "WS-0001", 250_000)]
    said = Activity.objects.filter(verb="release").get().summary
    assert said == "350 g of White sugar (WS-0001) could not stay put by for Gorse"


def test_consuming_uses_what_is_put_by_and_meets_the_need(old, new, gorse, rhubarb, maker):
    lines = reservations.consume(requirement=gorse, by=maker, on=MAY)

    gorse.refresh_from_db()
    assert [(line.lot.mark, line.quantity) for line in lines] == [("WS-0001", -600_000)]
    assert (gorse.state, gorse.quantity) == ("met", 600_000)
    assert promises() == [("Rhubarb", "WS-0002", 700_000)]
    assert Activity.objects.first().summary == "Used 600 g of White sugar for Gorse"


def test_consuming_can_be_undone_and_the_promise_comes_back(old, new, gorse, maker):
    reservations.consume(requirement=gorse, by=maker, on=MAY)

    undo_latest(maker)

    gorse.refresh_from_db()
    assert (gorse.state, ledger.on_hand(old)) == ("open", KILO)
    assert promises() == [("Gorse", "WS-0001", 600_000)]


def test_one_line_of_a_met_need_cannot_be_taken_back_alone(old, gorse, maker):
    [line] = reservations.consume(requirement=gorse, by=maker, on=MAY)

    with pytest.raises(Refusal, match="used for Gorse; undo that as a whole"):
        ledger.undo(movement=line, by=maker)


def test_consuming_what_is_not_all_there_is_refused_unless_less_is_allowed(gorse, sugar, maker):
    ledger.receive(item=sugar, quantity=450_000, on=FIRST_MONDAY, by=maker)

    with pytest.raises(Refusal, match="asks for 600 g of White sugar; 450 g is there for it"):
        reservations.consume(requirement=gorse, by=maker, on=MAY)
    lines = reservations.consume(requirement=gorse, by=maker, on=MAY, allow_less=True)

    gorse.refresh_from_db()
    assert ([line.quantity for line in lines], gorse.state) == ([-450_000], "met")


def test_a_need_for_which_nothing_was_used_is_withdrawn(gorse, maker):
    lines = reservations.consume(requirement=gorse, by=maker, on=MAY, allow_less=True)

    gorse.refresh_from_db()
    assert (lines, gorse.state) == ([], "withdrawn")


def test_what_was_really_used_can_be_said(old, new, gorse, maker):
    takes = [(old, 250_000), (new, 400_000)]

    lines = reservations.consume(requirement=gorse, by=maker, on=MAY, takes=takes)

    assert [line.quantity for line in lines] == [-250_000, -400_000]
    with pytest.raises(Refusal, match="Gorse is met, not open"):
        reservations.consume(requirement=gorse, by=maker, on=MAY)


def test_of_several_takes_all_are_written_or_none(old, new, gorse, maker):
    takes = [(old, 250_000), (new, 1_000_001)]

    with pytest.raises(Refusal, match="1 kg in WS-0002"):
        reservations.consume(requirement=gorse, by=maker, on=MAY, takes=takes)

    gorse.refresh_from_db()
    assert (gorse.state, ledger.on_hand(old)) == ("open", KILO)


def test_a_part_put_by_by_hand_is_topped_up_from_what_is_free(old, new, gorse, maker):
    reservations.reserve(lot=old, requirement=gorse, quantity=200_000, by=maker)

    lines = reservations.consume(requirement=gorse, by=maker, on=MAY)

    assert [(line.lot, line.quantity) for line in lines] == [(old, -600_000)]
