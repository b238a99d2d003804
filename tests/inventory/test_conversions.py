"""Freezing, drying, steeping and splitting a lot: both lines or neither."""

import datetime as dt

import pytest

from inventory import activity, audit, conversions, items, ledger
from inventory.models import Activity, Lot
from inventory.refusals import Refusal
from tests.conftest import FIRST_MONDAY, KILO
from tests.inventory.views.reading import text_of


@pytest.fixture
def bramble(maker):
    return items.add_item(by=maker, name="Bramble", kind="foraged", base="mg")


@pytest.fixture
def tub(bramble, maker):
    return ledger.receive(item=bramble, quantity=2 * KILO, on=FIRST_MONDAY, cost=400, by=maker)


def convert(tub, maker, *, amount=KILO, into=None, yields=None, how="frozen", **more):
    values = {"on": FIRST_MONDAY, "yields": amount if yields is None else yields} | more
    return conversions.convert(
        lot=tub, amount=amount, into=into or tub.item, how=how, by=maker, **values
    )


def broken():
    return [found.rule for found in audit.findings() if found.grave]


def test_half_a_tub_is_frozen_and_says_where_it_came_from(tub, maker):
    day = dt.date(2027, 4, 6)

    frozen = convert(tub, maker, use_by=day)

    assert (ledger.on_hand(tub), ledger.on_hand(frozen)) == (KILO, KILO)
    assert (frozen.origin, frozen.use_by, frozen.cost) == ("frozen from BR-0001", day, 200)
    assert broken() == []


def test_drying_says_its_yield(tub, maker):
    dried = convert(tub, maker, how="dried", yields=KILO // 5)

    assert ledger.on_hand(dried) == KILO // 5
    assert Activity.objects.first().summary.endswith("20%")


def test_steeping_may_become_something_measured_otherwise(tub, maker):
    syrup = items.add_item(by=maker, name="Bramble syrup", kind="ingredient", base="uL")

    made = convert(tub, maker, how="steeped", into=syrup, yields=1_500_000)

    assert ledger.on_hand(made) == 1_500_000


def test_it_is_taken_back_as_a_whole(tub, maker):
    frozen = convert(tub, maker)

    activity.undo(activity=Activity.objects.first(), by=maker)

    assert (ledger.on_hand(tub), ledger.on_hand(frozen)) == (2 * KILO, 0)
    assert broken() == []


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"amount": 3 * KILO}, "3 kg of Bramble wanted, 2 kg in"),
        ({"yields": KILO + 1}, "cannot become"),
        ({"how": "conjured"}, "nothing that is done here"),
        ({"amount": 0, "yields": 1}, "more than nothing"),
        ({"on": dt.date(2190, 1, 1)}, "still to come"),
    ],
)
def test_what_cannot_be_leaves_everything_as_it_was(tub, maker, values, words):
    with pytest.raises(Refusal, match=words):
        convert(tub, maker, **values)

    assert ledger.on_hand(tub) == 2 * KILO
    assert Lot.objects.count() == 1


def test_the_form_measures_each_side_as_its_own_item(client, tub, maker, settings):
    client.force_login(maker, backend=settings.AUTHENTICATION_BACKENDS[-1])
    syrup = items.add_item(by=maker, name="Bramble syrup", kind="ingredient", base="uL")
    typed = {"how": "steeped", "amount": "1 kg", "into": syrup.pk, "on": "6 Apr 2026"}

    answer = client.post(f"/lots/{tub.pk}/convert/", typed)
    assert answer.status_code == 422
    assert "Say how much of Bramble syrup it comes to." in text_of(answer)

    client.post(f"/lots/{tub.pk}/convert/", typed | {"yields": "1.5 L"})
    assert ledger.on_hand(Lot.objects.get(item=syrup)) == 1_500_000
