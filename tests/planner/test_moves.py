import datetime as dt

import pytest

from inventory import activity, ledger
from inventory.models import Activity, Requirement, Reservation
from inventory.refusals import Refusal
from planner import batches
from planner.models import Batch
from tests.planner.world import SATURDAY, damson_batch, days, sequences, step, sugar_line

KILO = 1_000_000


@pytest.fixture
def batch(maker, sugar):
    return damson_batch(maker, [sugar_line(sugar, step="press", amount=100_000)])


def undo_last(maker):
    activity.undo(activity=Activity.objects.first(), by=maker)


def test_requirements_move_with_their_step(batch, maker):
    batches.move_step(step=step(batch, "press"), day=dt.date(2026, 9, 21), by=maker)

    assert Requirement.objects.get().day == dt.date(2026, 9, 21)


def test_promises_are_dealt_anew_when_the_lot_is_past_its_date_on_the_new_day(batch, maker, sugar):
    ledger.receive(
        item=sugar, quantity=KILO, on=dt.date(2026, 4, 6), by=maker, use_by=dt.date(2026, 9, 20)
    )
    promised = Reservation.objects.count()

    batches.move_step(step=step(batch, "press"), day=dt.date(2026, 9, 21), by=maker)

    assert promised == 1
    assert not Reservation.objects.exists()


def test_pinned_step_stays_and_so_does_its_sequence(batch, maker):
    batches.pin(step=step(batch, "bottle"), by=maker)

    batches.move_step(step=step(batch, "press"), day=dt.date(2026, 9, 21), by=maker)

    assert days(batch)[8] == dt.date(2027, 1, 23)
    assert days(batch)[9] == dt.date(2027, 7, 24)
    assert sequences(batch) == [0, 0, 1, 1, 1, 1, 1, 1, 0, 1]


def test_step_before_its_predecessor_is_refused_with_the_reason(batch, maker):
    with pytest.raises(Refusal) as refusal:
        batches.move_step(step=step(batch, "rack"), day=dt.date(2026, 9, 18), by=maker)

    assert refusal.value.field == "day"
    assert refusal.value.message == (
        "rack on Fri 18 Sep 2026 would come before press on Sat 19 Sep 2026."
    )
    assert sequences(batch) == [0] * 10


def test_done_step_stays_where_it_was_done(batch, maker, settings):
    settings.PRETEND_TODAY = dt.date(2026, 9, 30)
    batches.complete_step(step=step(batch, "mash"), on=SATURDAY, by=maker)

    with pytest.raises(Refusal, match="done already"):
        batches.move_step(step=step(batch, "mash"), day=dt.date(2026, 9, 14), by=maker)


def test_moving_the_first_step_moves_the_start(batch, maker):
    batches.move_step(step=step(batch, "mash"), day=dt.date(2026, 9, 19), by=maker)
    moved = Batch.objects.get().start

    undo_last(maker)

    assert moved == dt.date(2026, 9, 19)
    assert Batch.objects.get().start == SATURDAY


def test_moving_may_pin_at_once(batch, maker):
    batches.move_step(step=step(batch, "rack"), day=dt.date(2026, 10, 11), by=maker, pin=True)

    assert step(batch, "rack").pinned


def test_undo_is_refused_once_a_step_was_changed_since(batch, maker):
    batches.move_step(step=step(batch, "press"), day=dt.date(2026, 9, 21), by=maker)
    first = Activity.objects.first()
    batches.move_step(step=step(batch, "rack"), day=dt.date(2026, 10, 20), by=maker)

    with pytest.raises(Refusal, match="changed since"):
        activity.undo(activity=first, by=maker)


def test_undo_of_two_moves_one_after_the_other_brings_the_plan_back(batch, maker):
    before = days(batch)
    batches.move_step(step=step(batch, "press"), day=dt.date(2026, 9, 21), by=maker)
    first = Activity.objects.first()
    batches.move_step(step=step(batch, "rack"), day=dt.date(2026, 10, 20), by=maker)

    undo_last(maker)
    activity.undo(activity=first, by=maker)

    assert days(batch) == before
    assert Requirement.objects.get().day == dt.date(2026, 9, 19)


def test_letting_a_pinned_step_go_can_be_undone(batch, maker):
    batches.pin(step=step(batch, "bottle"), by=maker)
    batches.unpin(step=step(batch, "bottle"), by=maker)

    undo_last(maker)

    assert step(batch, "bottle").pinned


def test_moving_ten_steps_takes_at_most_thirty_queries(batch, maker, django_assert_max_num_queries):
    with django_assert_max_num_queries(30):
        batches.move_step(step=step(batch, "mash"), day=dt.date(2026, 9, 13), by=maker)


def test_weekend_rule_of_no_sense_is_refused(batch, maker):
    with pytest.raises(Refusal, match="no rule for weekends"):
        batches.set_weekend(step=step(batch, "rack"), weekend="fridays", by=maker)
