"""What runs out: whom it hurts, by when to order, and always the same number of queries."""

import datetime as dt

import pytest

from inventory import ledger, receipts, requirements, reservations
from inventory.models import Item
from inventory.requirements import Need
from inventory.shortfalls import outlook, shortfalls
from tests.conftest import FIRST_MONDAY, KILO

MAY = dt.date(2026, 5, 4)
JUNE = dt.date(2026, 6, 1)


@pytest.fixture
def shelf(sugar, maker):
    return ledger.receive(item=sugar, quantity=2 * KILO, on=FIRST_MONDAY, by=maker)


def ask(item, quantity, day, by, label="Gorse", origin="batch:1"):
    return requirements.need(
        item=item, quantity=quantity, day=day, label=label, by=by, origin=origin, link="/b/1/"
    )


def items_with_everything(number, by):
    """Items that are short on two days, with a lot, goods on their way and something put by."""
    made = [
        Item(name=f"Herb {n:03}", kind="foraged", base="mg", pack=1000, lead_days=3)
        for n in range(number)
    ]
    items = Item.objects.bulk_create(made)
    needs = [Need(item, 700, day, "Cordial", "batch:1") for item in items for day in (MAY, JUNE)]
    for item in items:
        ledger.receive(item=item, quantity=900, on=FIRST_MONDAY, by=by)
        receipts.expect(item=item, quantity=100, due=MAY, by=by)
    rows = requirements.need_all(needs=needs, by=by)
    for item, need in zip(items, rows[::2], strict=True):
        reservations.reserve(lot=item.lots.get(), requirement=need, quantity=10, by=by)


@pytest.mark.parametrize("number", [3, 60])
def test_the_number_of_queries_is_the_same_whatever_the_number_of_items(
    maker, django_assert_num_queries, number
):
    items_with_everything(number, maker)

    with django_assert_num_queries(7):
        found = shortfalls(today=FIRST_MONDAY)
        said = [
            (one.item.name, one.spoken_for, hurt.label, order.packs, one.order_day)
            for one in found
            for line in one.lines
            for hurt in line.hurts
            for order in one.orders
        ]

    assert len(said) == number
    assert said[0] == ("Herb 000", 900, "Cordial", 1, dt.date(2026, 5, 29))


@pytest.mark.parametrize("number", [3, 60])
def test_what_one_batch_lacks_takes_one_query_more(maker, django_assert_num_queries, number):
    items_with_everything(number, maker)

    with django_assert_num_queries(8):
        assert len(shortfalls(today=FIRST_MONDAY, origin="batch:1")) == number


def test_nothing_is_short_in_an_empty_house(house, django_assert_num_queries):
    with django_assert_num_queries(5):
        assert shortfalls(today=FIRST_MONDAY) == []


def test_a_shortfall_names_the_need_it_hurts_and_the_day_to_order(shelf, sugar, maker):
    ask(sugar, 1_200_000, MAY, maker)
    need = ask(sugar, 1_500_000, JUNE, maker, label="Rhubarb: must", origin="batch:2")

    [found] = shortfalls(today=FIRST_MONDAY)

    [line] = found.lines
    [hurt] = line.hurts
    assert (found.on_hand, found.spoken_for, found.on_its_way) == (2_000_000, 2_000_000, 0)
    assert (line.day, line.quantity, line.missing) == (JUNE, 1_200_000, 700_000)
    assert (hurt.requirement, hurt.quantity, hurt.label) == (need.pk, 700_000, "Rhubarb: must")
    assert (line.order.quantity, line.order.packs) == (2 * KILO, 2)
    assert (line.order_day, line.overdue, line.advice) == (dt.date(2026, 5, 25), False, "order")


def test_what_should_have_been_ordered_is_overdue(sugar, maker):
    ask(sugar, KILO, dt.date(2026, 4, 8), maker)

    [found] = shortfalls(today=FIRST_MONDAY)

    assert found.overdue
    assert (found.lines[0].advice, found.order_day) == ("overdue", dt.date(2026, 4, 1))


def test_goods_on_their_way_are_asked_for_sooner_before_anything_is_bought(lemons, maker):
    ask(lemons, 4000, dt.date(2026, 4, 20), maker)
    parcel = receipts.expect(item=lemons, quantity=4000, due=MAY, by=maker)

    [found] = shortfalls(today=FIRST_MONDAY)

    [line] = found.lines
    [asked] = line.asks
    assert (line.advice, line.order, found.on_its_way) == ("sooner", None, 4000)
    assert (asked.receipt, asked.due, asked.wanted) == (parcel.pk, MAY, dt.date(2026, 4, 20))
    assert (asked.buy, line.order_day) == (4000, dt.date(2026, 4, 13))


def test_an_item_running_low_without_any_lot_or_need_is_short(sugar):
    [found] = shortfalls(today=FIRST_MONDAY)

    assert (found.item, found.lines[0].missing, found.lines[0].quantity) == (sugar, 0, 500_000)


def test_beyond_the_horizon_nothing_is_short(shelf, sugar, maker):
    ask(sugar, 3 * KILO, JUNE, maker)

    near = shortfalls(today=FIRST_MONDAY, horizon=dt.date(2026, 5, 31))
    far = shortfalls(today=FIRST_MONDAY, horizon=JUNE)

    assert (len(near), len(far)) == (0, 1)


def test_items_are_told_by_the_day_they_run_out_then_by_name(sugar, lemons, yeast, maker):
    ask(lemons, 1000, JUNE, maker)
    ask(yeast, 1000, MAY, maker)
    ask(sugar, 1000, MAY, maker)

    found = shortfalls(today=FIRST_MONDAY)

    assert [one.item for one in found] == [sugar, yeast, lemons]


def test_only_what_one_batch_or_one_item_lacks_is_told_when_asked(sugar, lemons, maker):
    ask(sugar, KILO, MAY, maker, origin="batch:1")
    ask(lemons, 1000, MAY, maker, origin="batch:2")

    of_batch = shortfalls(today=FIRST_MONDAY, origin="batch:2")
    of_item = shortfalls(today=FIRST_MONDAY, item=sugar)
    of_nobody = shortfalls(today=FIRST_MONDAY, origin="batch:3")

    assert [one.item for one in of_batch] == [lemons]
    assert [one.item for one in of_item] == [sugar]
    assert of_nobody == []


def test_an_opened_lot_spoils_sooner(shelf, sugar, maker):
    sugar.shelf_days_opened, sugar.safety_stock = 10, 0
    sugar.save()
    ask(sugar, KILO, MAY, maker)
    sealed = shortfalls(today=FIRST_MONDAY)

    ledger.edit_lot(shelf, version=1, values={"opened": FIRST_MONDAY}, by=maker)
    opened = shortfalls(today=FIRST_MONDAY)

    assert sealed == []
    assert [line.missing for line in opened[0].lines] == [KILO]


def test_many_needs_are_named_by_a_range_of_keys(lemons, maker, monkeypatch):
    monkeypatch.setattr("inventory.shortfalls.FEW", 1)
    for day in (MAY, JUNE):
        ask(lemons, 1000, day, maker, label=f"Must of {day}")

    [found] = shortfalls(today=FIRST_MONDAY)

    labels = [hurt.label for line in found.lines for hurt in line.hurts]
    assert labels == ["Must of 2026-05-04", "Must of 2026-06-01"]


def test_every_row_of_the_table_follows_from_the_one_before(sugar, maker):
    day = dt.date
    for use_by in (day(2026, 4, 10), day(2026, 5, 20), None):
        ledger.receive(item=sugar, quantity=KILO, on=FIRST_MONDAY, by=maker, use_by=use_by)
    receipts.expect(item=sugar, quantity=KILO, due=day(2026, 7, 1), by=maker)
    receipts.expect(item=sugar, quantity=KILO, due=day(2026, 4, 1), by=maker)
    for when in (day(2026, 4, 1), MAY, JUNE):
        ask(sugar, 1_300_000, when, maker)

    rows = outlook(item=sugar, today=FIRST_MONDAY)

    on_hand = 3 * KILO
    for row in rows:
        on_hand += row.arrives + row.planned - row.needed - row.expires
        assert row.on_hand == on_hand, row
    assert sum(row.needed for row in rows) == 3_900_000


def test_the_table_of_an_item_takes_five_queries(shelf, sugar, maker, django_assert_num_queries):
    ask(sugar, KILO, MAY, maker)

    with django_assert_num_queries(5):
        rows = outlook(item=sugar, today=FIRST_MONDAY)

    assert [(row.day, row.needed, row.on_hand) for row in rows if row.needed] == [(MAY, KILO, KILO)]


def test_an_item_of_which_nothing_is_known_has_none_on_hand(lemons):
    [row] = outlook(item=lemons, today=FIRST_MONDAY)

    assert (row.day, row.on_hand, row.short) == (FIRST_MONDAY, 0, 0)


def test_a_need_that_waits_for_an_order_lacks_it_even_if_the_order_only_fills_the_shelf(
    sugar, maker
):
    need = ask(sugar, KILO, MAY, maker)

    [found] = shortfalls(today=FIRST_MONDAY, origin="batch:1")

    quantity, line = found.lacking[need.pk]
    assert [line.hurts for line in found.lines] == [(), ()]
    assert (quantity, line.day, line.order_day) == (KILO, dt.date(2026, 4, 13), FIRST_MONDAY)
