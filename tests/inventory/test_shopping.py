"""The shopping list: shops and lines by their latest order day, and a tick that receives."""

import datetime as dt

import pytest

from inventory import ledger, requirements, shopping
from tests.conftest import FIRST_MONDAY, KILO, PIECE

MAY = dt.date(2026, 5, 4)


@pytest.fixture
def wanted(sugar, yeast, lemons, maker):
    ask = [
        (sugar, 1_500_000, MAY, "Rhubarb"),
        (yeast, PIECE, dt.date(2026, 4, 27), "Gorse"),
        (lemons, 3 * PIECE, dt.date(2026, 4, 8), "Gorse"),
        (lemons, PIECE, dt.date(2026, 8, 3), "Bramble"),
    ]
    for item, quantity, day, label in ask:
        requirements.need(item=item, quantity=quantity, day=day, label=label, by=maker)


def test_shops_stand_by_their_first_order_day_and_overdue_lines_come_first(wanted):
    shops = shopping.shopping_list(today=FIRST_MONDAY)

    said = [
        (shop.name, shop.overdue, [(line.item.name, f"{line.order_day}") for line in shop.lines])
        for shop in shops
    ]
    assert said == [
        (
            "The corner shop",
            True,
            [
                ("Lemons", "2026-04-01"),
                ("White sugar", "2026-04-06"),
                ("White sugar", "2026-04-27"),
                ("Lemons", "2026-07-27"),
            ],
        ),
        ("The brew cupboard", False, [("Wine yeast", "2026-04-20")]),
    ]


def test_a_line_says_packs_price_and_for_what(wanted):
    [yeast_line] = shopping.shopping_list(today=FIRST_MONDAY)[1].lines

    assert (yeast_line.packs, yeast_line.quantity, yeast_line.price) == (1, 2 * PIECE, 190)
    assert [(hurt.label, hurt.quantity) for hurt in yeast_line.for_what] == [("Gorse", PIECE)]


def test_what_is_had_in_any_amount_has_neither_packs_nor_price(lemons, maker):
    lemons.pack, lemons.pack_price = 1, 35
    lemons.save()
    requirements.need(item=lemons, quantity=1500, day=MAY, label="Gorse", by=maker)

    [line] = shopping.shopping_lines(today=FIRST_MONDAY)

    assert (line.quantity, line.packs, line.price) == (1500, None, None)


def test_only_what_must_be_ordered_by_a_day_is_due(wanted):
    lines = shopping.due_orders(today=FIRST_MONDAY, until=dt.date(2026, 4, 20))

    assert [line.item.name for line in lines] == ["Lemons", "White sugar", "Wine yeast"]


def test_a_horizon_leaves_out_what_is_needed_later(wanted):
    lines = shopping.shopping_lines(today=FIRST_MONDAY, horizon=MAY)

    assert max(line.arrive_day for line in lines) == MAY


def test_a_tick_receives_the_line_and_it_is_gone_from_the_list(wanted, yeast, maker):
    lot = shopping.tick(item=yeast, quantity=2 * PIECE, on=FIRST_MONDAY, by=maker, cost=190)

    assert (lot.origin, lot.cost, ledger.on_hand(lot)) == ("The brew cupboard", 190, 2 * PIECE)
    assert [shop.name for shop in shopping.shopping_list(today=FIRST_MONDAY)] == ["The corner shop"]


def test_an_empty_house_buys_nothing(house):
    assert shopping.shopping_list(today=FIRST_MONDAY) == []


def test_packs_and_the_least_that_can_be_ordered_are_kept_to(sugar, maker):
    sugar.minimum_order, sugar.safety_stock = 2_500_000, 0
    sugar.save()
    requirements.need(item=sugar, quantity=KILO, day=MAY, label="Gorse", by=maker)

    [line] = shopping.shopping_lines(today=FIRST_MONDAY)

    assert (line.packs, line.quantity) == (3, 3 * KILO)
