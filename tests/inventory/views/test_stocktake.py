"""A shelf counted on one page: all or nothing, and nothing typed is lost."""

import datetime as dt

import pytest

from inventory import items, ledger, places, stocktake
from inventory.models import Activity, Movement
from inventory.refusals import Refusal
from tests.conftest import FIRST_MONDAY, KILO, PIECE
from tests.inventory.views.reading import text_of


@pytest.fixture
def shelf(maker, sugar, lemons, pantry):
    receive = {"on": FIRST_MONDAY, "by": maker, "place": pantry}
    return (
        ledger.receive(item=sugar, quantity=3 * KILO, **receive),
        ledger.receive(item=lemons, quantity=4 * PIECE, **receive),
    )


def count(client, **typed):
    return client.post("/stocktake/", {"on": "6 Apr 2026"} | typed)


def test_what_differs_is_put_right_and_the_rest_stays(makers_client, shelf):
    bag, peel = shelf

    answer = count(makers_client, **{f"lot_{bag.pk}": "2.8 kg", f"lot_{peel.pk}": "4"})

    assert answer.status_code == 302
    assert (ledger.on_hand(bag), ledger.on_hand(peel)) == (2_800_000, 4 * PIECE)
    assert Movement.objects.filter(kind="count").count() == 1
    assert Activity.objects.first().summary == ("Counted 2 lots, 1 of them otherwise than recorded")


def test_a_box_left_empty_is_not_counted_and_nothing_counts_as_nothing(makers_client, shelf):
    bag, peel = shelf

    count(makers_client, **{f"lot_{bag.pk}": "", f"lot_{peel.pk}": "0"})

    assert (ledger.on_hand(bag), ledger.on_hand(peel)) == (3 * KILO, 0)


def test_one_wrong_box_keeps_all_the_others_typed(makers_client, shelf):
    bag, peel = shelf

    answer = count(makers_client, **{f"lot_{bag.pk}": "2.8 kg", f"lot_{peel.pk}": "-1"})

    assert answer.status_code == 422
    assert 'value="2.8 kg"' in answer.content.decode()
    assert list(answer.context["form"].errors) == [f"lot_{peel.pk}"]
    assert ledger.on_hand(bag) == 3 * KILO


def test_a_lot_used_up_while_somebody_counts_keeps_what_was_typed(makers_client, maker, shelf):
    bag, peel = shelf
    ledger.issue(lot=peel, quantity=4 * PIECE, on=FIRST_MONDAY, by=maker)

    count(makers_client, **{f"lot_{bag.pk}": "3 kg", f"lot_{peel.pk}": "1"})

    assert ledger.on_hand(peel) == PIECE


def test_nothing_counted_is_said(makers_client, shelf):
    assert "Count at least one lot" in text_of(count(makers_client))


def test_only_the_shelf_that_is_asked_for_is_shown(makers_client, maker, shelf, sugar, pantry):
    attic = places.add_place(by=maker, name="Attic")
    far = ledger.receive(item=sugar, quantity=KILO, on=FIRST_MONDAY, by=maker, place=attic)

    page = text_of(makers_client.get("/stocktake/", {"place": pantry.pk}))

    assert shelf[0].mark in page
    assert far.mark not in page


def test_forty_lots_take_as_many_queries_to_show_as_two(
    makers_client, maker, shelf, django_assert_max_num_queries
):
    with django_assert_max_num_queries(10) as few:
        makers_client.get("/stocktake/")
    for number in range(40):
        item = items.add_item(by=maker, name=f"Herb {number}", kind="foraged", base="mg")
        ledger.receive(item=item, quantity=KILO, on=FIRST_MONDAY, by=maker)

    with django_assert_max_num_queries(len(few)):
        makers_client.get("/stocktake/")


def test_too_many_at_once_are_refused(maker):
    with pytest.raises(Refusal, match="At most 500 lots"):
        stocktake.count_all(counted=dict.fromkeys(range(501), 1), on=dt.date(2026, 4, 6), by=maker)
