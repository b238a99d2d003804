import datetime as dt

import pytest

from inventory import activity, ledger
from inventory.models import Activity, Movement, Requirement, Reservation
from inventory.refusals import Refusal
from planner import batches
from planner.models import Batch
from tests.planner.world import (
    AT_20,
    SATURDAY,
    damson_batch,
    days,
    sequences,
    step,
    sugar_line,
    yeast_line,
)

KILO = 1_000_000
PIECE = 1000
SUNDAY = dt.date(2026, 9, 13)


@pytest.fixture
def batch(maker, sugar, yeast, settings):
    made = damson_batch(maker, [sugar_line(sugar, amount=200_000), yeast_line(yeast)])
    settings.PRETEND_TODAY = dt.date(2026, 9, 30)
    return made


def receive(item, quantity, maker):
    return ledger.receive(item=item, quantity=quantity, on=dt.date(2026, 4, 6), by=maker)


def undo_last(maker):
    activity.undo(activity=Activity.objects.first(), by=maker)


def test_doing_a_step_uses_what_it_needs(batch, maker, sugar):
    lot = receive(sugar, 5 * KILO, maker)

    done = batches.complete_step(step=step(batch, "mash"), on=SATURDAY, by=maker, remark="Warm")

    line = Movement.objects.get(kind="issue")
    assert (line.lot, line.quantity, line.day) == (lot, -3_600_000, SATURDAY)
    assert line.requirement.state == "met"
    assert (done.state, done.done_on, done.done_by, done.remark) == (
        "done",
        SATURDAY,
        maker,
        "Warm",
    )
    assert sequences(batch) == [1, 0, 0, 0, 0, 0, 0, 0, 0, 0]


def test_batch_comes_as_far_as_its_step_brings_it(batch, maker, sugar, yeast):
    receive(sugar, 5 * KILO, maker)
    receive(yeast, PIECE, maker)

    batches.complete_step(step=step(batch, "mash"), on=SATURDAY, by=maker)
    after_mash = Batch.objects.get().state
    batches.complete_step(step=step(batch, "enzyme and yeast"), on=SUNDAY, by=maker, told=AT_20)

    assert after_mash == "must_made"
    assert Batch.objects.get().state == "working"


def test_batch_never_goes_back(batch, maker, sugar):
    receive(sugar, 5 * KILO, maker)
    batches.complete_step(step=step(batch, "stabilise"), on=SUNDAY, by=maker)

    batches.complete_step(step=step(batch, "mash"), on=SUNDAY, by=maker)

    assert Batch.objects.get().state == "steadied"


def test_missing_item_is_named_with_how_much_and_nothing_is_used(batch, maker, sugar):
    receive(sugar, 2 * KILO, maker)

    with pytest.raises(Refusal) as refusal:
        batches.complete_step(step=step(batch, "mash"), on=SATURDAY, by=maker)

    assert "1.6 kg of White sugar" in refusal.value.message
    assert "Receive it first" in refusal.value.message
    assert not Movement.objects.filter(kind="issue").exists()
    assert step(batch, "mash").state == "to_do"


def test_step_may_be_done_without_what_is_missing_with_a_reason(batch, maker, sugar):
    receive(sugar, 2 * KILO, maker)

    batches.complete_step(
        step=step(batch, "mash"), on=SATURDAY, by=maker, without=True, remark="Sweet fruit"
    )

    assert Movement.objects.get(kind="issue").quantity == -2 * KILO
    assert step(batch, "mash").remark == "Sweet fruit"


def test_doing_without_and_no_reason_is_refused(batch, maker):
    with pytest.raises(Refusal) as refusal:
        batches.complete_step(step=step(batch, "mash"), on=SATURDAY, by=maker, without=True)

    assert refusal.value.field == "remark"


def test_person_may_say_which_lots_were_used(batch, maker, sugar):
    receive(sugar, 5 * KILO, maker)
    other = receive(sugar, 5 * KILO, maker)
    need = Requirement.objects.get(item=sugar)

    batches.complete_step(
        step=step(batch, "mash"), on=SATURDAY, by=maker, takes={need.pk: [(other, 3 * KILO)]}
    )

    assert list(Movement.objects.filter(kind="issue").values_list("lot", "quantity")) == [
        (other.pk, -3 * KILO)
    ]


def test_undo_opens_the_step_and_writes_opposite_lines(batch, maker, sugar):
    lot = receive(sugar, 5 * KILO, maker)
    batches.complete_step(step=step(batch, "mash"), on=SATURDAY, by=maker)

    undo_last(maker)

    opened = step(batch, "mash")
    assert (opened.state, opened.done_on, opened.remark) == ("to_do", None, "")
    assert ledger.on_hand(lot) == 5 * KILO
    assert [line.kind for line in lot.movements.all()] == ["receive", "issue", "undo"]
    assert Requirement.objects.get(item=sugar).state == "open"
    assert Reservation.objects.get(lot=lot).quantity == 3_600_000
    assert Batch.objects.get().state == "set_down"
    assert opened.sequence == 2


def test_undo_of_a_step_done_without_opens_its_need_again(batch, maker, sugar):
    batches.complete_step(
        step=step(batch, "mash"), on=SATURDAY, by=maker, without=True, remark="None left"
    )
    withdrawn = Requirement.objects.get(item=sugar).state

    undo_last(maker)

    assert withdrawn == "withdrawn"
    assert Requirement.objects.get(item=sugar).state == "open"


def test_done_step_is_not_done_twice(batch, maker):
    batches.complete_step(step=step(batch, "press"), on=SATURDAY, by=maker)

    with pytest.raises(Refusal, match="done already"):
        batches.complete_step(step=step(batch, "press"), on=SATURDAY, by=maker)


def test_step_cannot_be_done_on_a_day_to_come(batch, maker):
    with pytest.raises(Refusal, match="still to come"):
        batches.complete_step(step=step(batch, "press"), on=dt.date(2026, 10, 1), by=maker)


def test_skipped_step_frees_what_it_needed_and_undo_asks_for_it_again(batch, maker, sugar):
    receive(sugar, 5 * KILO, maker)

    batches.skip_step(step=step(batch, "mash"), reason="Juice instead", by=maker)
    skipped, freed = step(batch, "mash"), not Reservation.objects.exists()
    undo_last(maker)

    assert (skipped.state, skipped.remark, skipped.sequence) == ("skipped", "Juice instead", 1)
    assert freed
    assert step(batch, "mash").state == "to_do"
    assert Reservation.objects.get().quantity == 3_600_000


def test_skipping_asks_for_a_reason(batch, maker):
    with pytest.raises(Refusal) as refusal:
        batches.skip_step(step=step(batch, "rack"), reason=" ", by=maker)

    assert refusal.value.field == "reason"


def test_every_action_leaves_exactly_one_activity(batch, maker, sugar):
    receive(sugar, 5 * KILO, maker)
    before = Activity.objects.count()

    batches.complete_step(step=step(batch, "mash"), on=SATURDAY, by=maker)
    batches.skip_step(step=step(batch, "rack"), reason="Clear already", by=maker)
    batches.pin(step=step(batch, "bottle"), by=maker)
    batches.move_step(step=step(batch, "press"), day=dt.date(2026, 9, 20), by=maker)

    assert Activity.objects.count() == before + 4
    assert days(batch)[2] == dt.date(2026, 9, 20)
