"""No sulphite and no sorbate over the limit, and none near it without a reason."""

import datetime as dt

import pytest

from inventory import ledger
from inventory.models import Item
from inventory.refusals import Refusal
from planner import additions, dose_gate, readings, volumes
from planner.models import Addition
from tests.planner.world import LITRE, SATURDAY, damson_batch

G = 1000
LATER = SATURDAY + dt.timedelta(days=40)


@pytest.fixture
def batch(settings, maker, house):
    settings.PRETEND_TODAY = LATER
    found = damson_batch(maker)
    volumes.begin(batch=found, volume=10 * LITRE, on=SATURDAY, by=maker)
    return found


@pytest.fixture
def lot(maker, house):
    item = Item.objects.create(name="Potassium metabisulphite", kind="additive", base="mg")
    return ledger.receive(item=item, quantity=100 * G, on=SATURDAY, by=maker)


def add(batch, lot, grams, maker, purpose="sulphite", **more):
    return additions.add(
        batch=batch, lot=lot, amount=round(grams * G), on=LATER, by=maker, purpose=purpose, **more
    )


def test_half_a_gram_in_ten_litres_goes_in(batch, lot, maker):
    # 0.5 g of 57.63 % in 10 L: 28.8 mg/L of 200.
    add(batch, lot, 0.5, maker)

    assert dose_gate.total_so2_mg_per_l(batch)[0] == pytest.approx(28.8, abs=0.1)


def test_doses_add_up_to_a_stop(batch, lot, maker):
    add(batch, lot, 2.5, maker)

    with pytest.raises(Refusal, match=r"Stop: Total SO2.* 202 of 200 mg/L") as refused:
        add(batch, lot, 1.0, maker)
    assert refused.value.field == "amount"
    assert Addition.objects.count() == 1


def test_near_the_limit_wants_a_reason_that_stays(batch, lot, maker):
    with pytest.raises(Refusal, match="Look again") as refused:
        add(batch, lot, 3.0, maker)
    assert refused.value.field == "reason"

    assert (
        "all the same: the fruit was mouldy"
        in add(batch, lot, 3.0, maker, reason="the fruit was mouldy").note
    )


def test_a_reading_of_the_total_stands_for_what_went_before(batch, lot, maker):
    add(batch, lot, 2.5, maker)
    at = dt.datetime(2026, 10, 22, 12, tzinfo=dt.UTC)
    readings.record(batch=batch, kind="total_so2", value=60, at=at, by=maker)
    Addition.objects.update(day=SATURDAY)

    assert dose_gate.total_so2_mg_per_l(batch) == (60.0, True)


def test_sorbate_over_the_limit_is_stopped(batch, maker):
    item = Item.objects.create(name="Potassium sorbate", kind="additive", base="mg")
    lot = ledger.receive(item=item, quantity=100 * G, on=SATURDAY, by=maker)

    # 3 g of 74.64 % in 10 L: 224 mg/L of 200.
    with pytest.raises(Refusal, match="Sorbic acid would come to 224 of 200"):
        add(batch, lot, 3.0, maker, purpose="sorbate")


def test_sugar_takes_its_room_and_undo_gives_it_back(batch, sugar, maker):
    lot = ledger.receive(item=sugar, quantity=1_000_000, on=SATURDAY, by=maker)

    add(batch, lot, 613, maker, purpose="sugar")

    # 0.613 kg in 16.5 L come to 16.88 L in the worked example: 0.38 L.
    assert volumes.of_batch(batch).amount == 10 * LITRE + 380_060
