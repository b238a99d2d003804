"""Receiving, using, counting, putting right, throwing out and taking back."""

import datetime as dt

import pytest

from inventory import activity, ledger
from inventory.models import Activity, Movement, Reservation
from inventory.refusals import Refusal
from inventory.requirements import need
from tests.conftest import FIRST_MONDAY, KILO, PIECE


@pytest.fixture
def bag(sugar, maker):
    return ledger.receive(item=sugar, quantity=KILO // 2, on=FIRST_MONDAY, by=maker)


def test_receiving_makes_a_lot_with_one_line_and_one_activity(sugar, maker):
    lot = ledger.receive(item=sugar, quantity=3 * KILO, on=FIRST_MONDAY, by=maker, cost=345)

    line = lot.movements.get()
    assert (lot.mark, lot.received, lot.use_by, lot.cost) == ("WS-0001", FIRST_MONDAY, None, 345)
    assert (line.kind, line.quantity, line.by) == ("receive", 3_000_000, maker)
    done = Activity.objects.first()
    assert done.summary == "Received 3 kg of White sugar (WS-0001)"
    assert done.link == lot.get_absolute_url()


def test_marks_of_one_item_run_on_and_step_over_one_written_by_hand(sugar, lemons, maker):
    values = {"quantity": KILO, "on": FIRST_MONDAY, "by": maker}

    lots = [
        ledger.receive(item=sugar, **values),
        ledger.receive(item=sugar, mark="WS-0003", **values),
        ledger.receive(item=sugar, **values),
        ledger.receive(item=lemons, **values),
    ]

    assert [lot.mark for lot in lots] == ["WS-0001", "WS-0003", "WS-0004", "LE-0001"]


def test_a_mark_that_another_lot_bears_is_refused(sugar, bag, maker):
    with pytest.raises(Refusal, match="Another lot is marked WS-0001") as refused:
        ledger.receive(item=sugar, quantity=KILO, on=FIRST_MONDAY, by=maker, mark="WS-0001")

    assert refused.value.field == "mark"


def test_use_by_follows_from_how_long_the_item_keeps_sealed(lemons, maker):
    lemons.shelf_days_sealed = 21
    lemons.save()

    lot = ledger.receive(item=lemons, quantity=3 * PIECE, on=FIRST_MONDAY, by=maker)

    assert lot.use_by == dt.date(2026, 4, 27)


def test_issue_refuses_more_than_is_held(bag, maker):
    message = "501 g of White sugar wanted, 500 g in WS-0001"

    with pytest.raises(Refusal, match=message) as refused:
        ledger.issue(lot=bag, quantity=501_000, on=FIRST_MONDAY, by=maker)

    assert refused.value.field == "quantity"
    assert bag.movements.count() == 1
    assert Activity.objects.filter(verb="issue").count() == 0


def test_the_last_of_a_lot_can_be_used(bag, maker):
    line = ledger.issue(lot=bag, quantity=500_000, on=FIRST_MONDAY, by=maker, reason="jam")

    assert (line.kind, line.quantity, line.reason) == ("issue", -500_000, "jam")
    assert ledger.on_hand(bag) == 0


def test_four_hundred_parts_leave_no_residue(sugar, maker):
    lot = ledger.receive(item=sugar, quantity=100_000, on=FIRST_MONDAY, by=maker)
    tenth = Movement(lot=lot, quantity=-100, kind="issue", day=FIRST_MONDAY)
    Movement.objects.bulk_create([_copy(tenth) for _ in range(999)])

    ledger.issue(lot=lot, quantity=100, on=FIRST_MONDAY, by=maker)

    assert ledger.on_hand(lot) == 0


def _copy(line):
    return Movement(lot=line.lot, quantity=line.quantity, kind=line.kind, day=line.day)


def test_using_part_for_a_need_leaves_the_rest_of_it_open(bag, sugar, maker):
    must = need(item=sugar, quantity=KILO, day=dt.date(2026, 4, 20), label="Gorse", by=maker)

    ledger.issue(lot=bag, quantity=400_000, on=FIRST_MONDAY, by=maker, requirement=must)

    must.refresh_from_db()
    assert (must.state, must.quantity) == ("open", 600_000)
    assert Reservation.objects.get().quantity == 100_000


def test_two_uses_for_one_need_can_be_taken_back_in_either_order(bag, sugar, maker):
    must = need(item=sugar, quantity=400_000, day=dt.date(2026, 4, 20), label="Gorse", by=maker)
    values = {"lot": bag, "on": FIRST_MONDAY, "by": maker, "requirement": must}
    first = ledger.issue(quantity=150_000, **values)
    second = ledger.issue(quantity=250_000, **values)

    ledger.undo(movement=first, by=maker)
    must.refresh_from_db()
    halfway = must.state, must.quantity
    ledger.undo(movement=second, by=maker)

    must.refresh_from_db()
    assert halfway == ("open", 150_000)
    assert (must.state, must.quantity) == ("open", 400_000)
    assert ledger.on_hand(bag) == 500_000


def test_a_need_of_another_item_or_one_that_is_met_cannot_be_used_for(bag, lemons, sugar, maker):
    day = dt.date(2026, 4, 20)
    other = need(item=lemons, quantity=PIECE, day=day, label="Rhubarb", by=maker)
    met = need(item=sugar, quantity=100_000, day=day, label="Gorse", by=maker)
    values = {"lot": bag, "quantity": 100_000, "on": FIRST_MONDAY, "by": maker}
    ledger.issue(requirement=met, **values)

    with pytest.raises(Refusal, match="Rhubarb asks for something else"):
        ledger.issue(requirement=other, **values)
    with pytest.raises(Refusal, match="Gorse is met, not open"):
        ledger.issue(requirement=met, **values)


def test_adjusting_needs_a_reason_and_stays_above_zero(bag, maker):
    with pytest.raises(Refusal, match="Say why"):
        ledger.adjust(lot=bag, quantity=-1000, on=FIRST_MONDAY, by=maker, reason=" ")
    with pytest.raises(Refusal, match="600 g of White sugar wanted, 500 g in WS-0001"):
        ledger.adjust(lot=bag, quantity=-600_000, on=FIRST_MONDAY, by=maker, reason="spilt")

    ledger.adjust(lot=bag, quantity=-20_000, on=FIRST_MONDAY, by=maker, reason="spilt")

    assert ledger.on_hand(bag) == 480_000


def test_counting_writes_the_difference_and_nothing_when_there_is_none(bag, maker):
    less = ledger.count(lot=bag, counted=480_000, on=FIRST_MONDAY, by=maker)
    same = ledger.count(lot=bag, counted=480_000, on=FIRST_MONDAY, by=maker)
    none = ledger.count(lot=bag, counted=0, on=FIRST_MONDAY, by=maker)

    assert (less.kind, less.quantity, same, none.quantity) == ("count", -20_000, None, -480_000)
    summaries = [done.summary for done in Activity.objects.filter(verb="count")[:3]]
    assert summaries == [
        "Counted White sugar (WS-0001): 0 g, 480 g less than recorded",
        "Counted White sugar (WS-0001): 480 g, as recorded",
        "Counted White sugar (WS-0001): 480 g, 20 g less than recorded",
    ]


def test_throwing_out_takes_all_that_is_left_unless_told_how_much(bag, maker):
    values = {"lot": bag, "on": FIRST_MONDAY, "by": maker, "reason": "damp"}

    part = ledger.throw_out(quantity=100_000, **values)
    rest = ledger.throw_out(**values)

    assert (part.quantity, rest.quantity, rest.reason) == (-100_000, -400_000, "thrown out: damp")
    with pytest.raises(Refusal, match="Nothing is left of WS-0001"):
        ledger.throw_out(**values)


def test_undo_writes_the_opposite_line_once(bag, maker):
    used = ledger.issue(lot=bag, quantity=200_000, on=FIRST_MONDAY, by=maker)

    back = ledger.undo(movement=used, by=maker)

    assert (back.kind, back.quantity, back.undoes) == ("undo", 200_000, used)
    with pytest.raises(Refusal, match="undone already"):
        ledger.undo(movement=used, by=maker)
    with pytest.raises(Refusal, match="takes another back already"):
        ledger.undo(movement=back, by=maker)
    assert ledger.on_hand(bag) == 500_000


def test_what_was_received_cannot_be_taken_back_once_some_is_used(bag, maker):
    received = Activity.objects.filter(verb="receive").get()
    ledger.issue(lot=bag, quantity=1000, on=FIRST_MONDAY, by=maker)

    with pytest.raises(Refusal, match="500 g of White sugar wanted, 499 g in WS-0001"):
        activity.undo(activity=received, by=maker)

    received.refresh_from_db()
    assert received.can_undo
    assert bag.movements.count() == 2


def test_a_line_without_an_activity_can_be_taken_back(bag, maker):
    line = Movement.objects.create(lot=bag, quantity=-1000, kind="issue", day=FIRST_MONDAY)

    ledger.undo(movement=line, by=maker)

    assert ledger.on_hand(bag) == 500_000
    with pytest.raises(Refusal, match="taken back already"):
        ledger.undo(movement=line, by=maker)


@pytest.mark.parametrize("quantity", [0, -1, 10**15 + 1])
def test_a_quantity_out_of_range_is_refused(bag, maker, quantity):
    with pytest.raises(Refusal, match="more than nothing"):
        ledger.issue(lot=bag, quantity=quantity, on=FIRST_MONDAY, by=maker)


def test_a_day_out_of_range_and_a_reason_too_long_are_refused(bag, maker):
    with pytest.raises(Refusal, match="between 1900 and 2199") as refused:
        ledger.issue(lot=bag, quantity=1, on=dt.date(1, 1, 1), by=maker)
    assert refused.value.field == "on"

    with pytest.raises(Refusal, match="200 characters") as refused:
        ledger.issue(lot=bag, quantity=1, on=FIRST_MONDAY, by=maker, reason="x" * 201)
    assert refused.value.field == "reason"


def test_stock_is_the_sum_of_the_lines_by_item_in_one_query(
    bag, sugar, lemons, maker, django_assert_num_queries
):
    ledger.receive(item=sugar, quantity=KILO, on=FIRST_MONDAY, by=maker)
    ledger.receive(item=lemons, quantity=3 * PIECE, on=FIRST_MONDAY, by=maker)

    with django_assert_num_queries(1):
        assert ledger.stock() == {sugar.pk: 1_500_000, lemons.pk: 3000}
    assert ledger.stock([lemons.pk]) == {lemons.pk: 3000}


def test_editing_a_lot_deals_anew(bag, sugar, maker):
    must = need(item=sugar, quantity=100_000, day=dt.date(2026, 4, 20), label="Gorse", by=maker)
    promised_before = must.reservations.count()

    ledger.edit_lot(bag, version=1, values={"use_by": dt.date(2026, 4, 19)}, by=maker)

    assert (promised_before, must.reservations.count()) == (1, 0)
