"""Dated needs: written down, moved, withdrawn, needed again."""

import datetime as dt

import pytest

from inventory import activity, ledger, requirements
from inventory.models import Activity, Requirement, Reservation
from inventory.refusals import Refusal
from inventory.requirements import Need
from tests.conftest import FIRST_MONDAY, KILO, PIECE

JULY = dt.date(2026, 7, 6)


@pytest.fixture
def jam(sugar, maker):
    return requirements.need(item=sugar, quantity=3 * KILO, day=JULY, label="Jam", by=maker)


def undo_latest(by):
    activity.undo(activity=Activity.objects.exclude(undo="").first(), by=by)


def states():
    return list(Requirement.objects.order_by("pk").values_list("state", flat=True))


def test_a_need_typed_by_hand_is_promised_what_is_there(sugar, maker):
    ledger.receive(item=sugar, quantity=2 * KILO, on=FIRST_MONDAY, by=maker)

    jam = requirements.need(item=sugar, quantity=3 * KILO, day=JULY, label="Jam", by=maker)

    assert Reservation.objects.get(requirement=jam).quantity == 2 * KILO
    assert Activity.objects.first().summary == "Needed: 3 kg of White sugar for Jam"


def test_many_needs_are_written_in_order_with_one_activity(sugar, lemons, maker):
    needs = [
        Need(lemons, 4 * PIECE, JULY, "Meadowsweet: mash", "batch:1", "/batches/1/"),
        Need(sugar, KILO, JULY, "Meadowsweet: mash", "batch:1", "/batches/1/"),
    ]

    rows = requirements.need_all(needs=needs, by=maker)

    assert [(row.item, row.origin, row.link) for row in rows] == [
        (lemons, "batch:1", "/batches/1/"),
        (sugar, "batch:1", "/batches/1/"),
    ]
    assert Activity.objects.filter(verb="need").count() == 1


def test_quiet_leaves_the_record_to_the_caller(jam, sugar, maker):
    before = Activity.objects.count()

    extra = requirements.need(
        item=sugar, quantity=KILO, day=JULY, label="Cake", by=maker, quiet=True
    )
    requirements.move(moves={jam.pk: dt.date(2026, 7, 13)}, by=maker, quiet=True)
    requirements.withdraw(requirements=[jam, extra], by=maker, quiet=True)
    requirements.reinstate(requirements=[jam], by=maker, quiet=True)

    assert Activity.objects.count() == before
    assert states() == ["open", "withdrawn"]


def test_withdrawing_frees_what_was_promised_and_can_be_undone(jam, sugar, maker):
    ledger.receive(item=sugar, quantity=2 * KILO, on=FIRST_MONDAY, by=maker)

    requirements.withdraw(requirements=[jam], by=maker)
    free = Reservation.objects.count(), states()
    undo_latest(maker)

    assert free == (0, ["withdrawn"])
    assert (Reservation.objects.get().quantity, states()) == (2 * KILO, ["open"])


def test_what_is_not_open_any_more_cannot_be_withdrawn(jam, maker):
    requirements.withdraw(requirements=[jam], by=maker)

    with pytest.raises(Refusal, match="met or withdrawn already"):
        requirements.withdraw(requirements=[jam], by=maker)


def test_needing_can_be_undone_until_it_is_met(jam, sugar, maker):
    lot = ledger.receive(item=sugar, quantity=3 * KILO, on=FIRST_MONDAY, by=maker)
    ledger.issue(lot=lot, quantity=3 * KILO, on=FIRST_MONDAY, by=maker, requirement=jam)
    needed = Activity.objects.get(verb="need")

    with pytest.raises(Refusal, match="met or withdrawn by now"):
        activity.undo(activity=needed, by=maker)
    undo_latest(maker)
    activity.undo(activity=needed, by=maker)

    assert states() == ["withdrawn"]


def test_moving_changes_who_is_promised_and_can_be_undone(jam, sugar, maker):
    cake = requirements.need(
        item=sugar, quantity=KILO, day=dt.date(2026, 7, 13), label="Cake", by=maker
    )
    ledger.receive(item=sugar, quantity=KILO, on=FIRST_MONDAY, by=maker)
    first = Reservation.objects.get().requirement

    moved = requirements.move(moves={cake.pk: dt.date(2026, 6, 29), jam.pk: JULY}, by=maker)
    second = Reservation.objects.get().requirement
    undo_latest(maker)

    assert (first, moved, second) == (jam, 1, cake)
    cake.refresh_from_db()
    assert (cake.day, Reservation.objects.get().requirement) == (dt.date(2026, 7, 13), jam)


def test_what_is_met_stays_on_its_day(jam, sugar, maker):
    lot = ledger.receive(item=sugar, quantity=3 * KILO, on=FIRST_MONDAY, by=maker)
    ledger.issue(lot=lot, quantity=3 * KILO, on=FIRST_MONDAY, by=maker, requirement=jam)

    assert requirements.move(moves={jam.pk: dt.date(2026, 8, 1)}, by=maker) == 0


def test_a_need_can_be_called_by_another_name(jam):
    requirements.relabel(labels={jam.pk: "Jam for the fair"})

    jam.refresh_from_db()
    assert str(jam) == "Jam for the fair"


@pytest.mark.parametrize(
    ("values", "says"),
    [
        ({"quantity": 0}, "more than nothing"),
        ({"day": dt.date(1899, 12, 31)}, "between 1900 and 2199"),
        ({"label": " "}, "what it is needed for"),
        ({"label": "x" * 161}, "160 characters"),
    ],
)
def test_nonsense_is_refused_and_nothing_is_written(sugar, maker, values, says):
    good = {"item": sugar, "quantity": KILO, "day": JULY, "label": "Jam", "by": maker}

    with pytest.raises(Refusal, match=says):
        requirements.need(**good | values)

    assert states() == []
