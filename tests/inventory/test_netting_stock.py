"""Safety stock, lots put aside by hand, and netting many items from one stream of rows."""

import pytest

from inventory.netted import Lot, Policy, Receipt, Requirement
from inventory.netting import net, net_all

LOW = Policy(today=100, lead_days=7, pack=10, safety=5)


def test_an_item_running_low_without_any_need_is_ordered_today_and_is_not_overdue():
    netted = net(LOW, [Lot("bag", 3)])

    assert netted.shortfalls == [(107, 2, 0, (), False, "order")]
    assert netted.orders == [(107, 100, 10, False, ())]
    assert netted.on_hand == [(100, 3), (107, 13)]


def test_an_item_running_low_is_left_alone_when_goods_come_before_an_order_could():
    netted = net(LOW, [Lot("bag", 3)], [Receipt("parcel", 104, 10)])

    assert netted.shortfalls == []
    assert netted.on_hand == [(100, 3), (104, 13), (107, 13)]


def test_an_item_that_runs_low_recovers_and_runs_low_again_keeps_its_days_in_order():
    netted = net(LOW, [Lot("bag", 3)], [Receipt("parcel", 104, 10)], [Requirement("must", 120, 10)])

    assert netted.on_hand == [(100, 3), (104, 13), (107, 13), (120, 13)]
    assert netted.orders == [(120, 113, 10, False, ())]


def test_an_item_running_low_asks_for_later_goods_before_it_buys():
    netted = net(LOW, [Lot("bag", 3)], [Receipt("parcel", 120, 10)])

    assert netted.sooner == [("parcel", 120, 107, 10, 10, 100, False)]
    assert netted.shortfalls == [(107, 2, 0, (), False, "sooner")]
    assert netted.orders == []


def test_a_need_that_lacks_goods_before_an_order_can_come_is_overdue_and_fills_the_safety_stock():
    netted = net(LOW, [Lot("bag", 3)], [], [Requirement("must", 103, 4)])

    assert netted.shortfalls == [(103, 6, 1, (("must", 1),), True, "overdue")]
    assert netted.orders == [(103, 96, 10, True, (("must", 1),))]
    assert netted.on_hand == [(100, 3), (103, 9), (107, 9)]


def test_safety_stock_that_expires_is_replaced_within_the_plan_only():
    lots = [Lot("bag", 6, 149)]

    short_plan = net(LOW, lots)
    long_plan = net(LOW, lots, until=150)

    assert short_plan.orders == []
    assert long_plan.orders == [(150, 143, 10, False, ())]
    assert short_plan.expired == long_plan.expired == [("bag", 150, 6, "lot")]


def test_a_lot_put_aside_is_kept_for_its_need_and_an_earlier_one_goes_short():
    dated = [Requirement("early", 110, 20), Requirement("late", 150, 20, (("first", 20),))]

    netted = net(Policy(100), [Lot("first", 20, 150), Lot("second", 10)], [], dated)

    assert netted.taken == [("early", "second", 10), ("late", "first", 20)]
    assert netted.shortfalls == [(110, 10, 10, (("early", 10),), False, "order")]
    assert netted.on_hand == [(100, 30), (110, 20), (150, 0)]


def test_a_lot_put_aside_that_is_past_its_date_on_the_day_is_free_for_others():
    dated = [Requirement("early", 110, 15), Requirement("late", 150, 20, (("first", 20),))]

    netted = net(Policy(100), [Lot("first", 20, 149), Lot("second", 10)], [], dated)

    assert netted.taken == [("early", "first", 15), ("late", "second", 10)]
    assert netted.expired == [("first", 150, 5, "lot")]
    assert netted.shortfalls[0].hurts == (("late", 10),)


def test_more_put_aside_than_the_lot_or_the_need_holds_is_cut_to_what_there_is():
    dated = [
        Requirement("one", 110, 5, (("bag", 9),)),
        Requirement("two", 120, 5, (("bag", 9), ("gone", 1))),
    ]

    netted = net(Policy(100), [Lot("bag", 8)], [], dated)

    assert netted.taken == [("one", "bag", 5), ("two", "bag", 3)]
    assert netted.shortfalls[0].missing == 2


def test_stock_put_aside_counts_towards_the_safety_stock_until_it_is_used():
    dated = [Requirement("late", 150, 8, (("bag", 8),))]

    netted = net(LOW, [Lot("bag", 12)], [], dated)

    assert netted.shortfalls == [(150, 1, 0, (), False, "order")]


ROWS = [
    (1, 0, 0, 11, 8, 0),
    (1, 110, 2, 31, 6, 0),
    (2, 0, 0, 12, 5, 115),
    (2, 105, 1, 21, 4, 0),
    (2, 120, 2, 32, 6, 0),
]


def test_a_stream_answers_each_item_as_netting_it_alone_does():
    policies = {1: LOW, 2: Policy(100, lead_days=3), 3: LOW}

    answers = dict(net_all(ROWS, policies))

    assert answers[1] == net(LOW, [Lot(11, 8)], [], [Requirement(31, 110, 6)])
    assert answers[2] == net(
        policies[2], [Lot(12, 5, 115)], [Receipt(21, 105, 4)], [Requirement(32, 120, 6)]
    )
    assert answers[3] == net(LOW)


def test_without_detail_only_the_day_by_day_lists_stay_empty():
    policies = {1: LOW, 2: Policy(100, lead_days=3)}

    full, brief = dict(net_all(ROWS, policies)), dict(net_all(ROWS, policies, detail=False))

    assert brief[1] == full[1]._replace(on_hand=[], taken=[], awaited=[])
    assert brief[2] == full[2]._replace(on_hand=[], taken=[], awaited=[])
    assert brief[2].orders[0].covers == ((32, 2),)


def test_a_stream_takes_what_is_put_aside_by_item_and_need():
    rows = [(1, 0, 0, 11, 8, 120), (1, 0, 0, 12, 8, 0), (1, 110, 2, 31, 6, 0)]

    answers = dict(net_all(rows, {1: LOW}, pins={1: {31: ((12, 6),)}}))

    assert answers[1].taken == [(31, 12, 6)]


def test_rows_out_of_order_are_refused():
    rows = [(1, 120, 2, 31, 6, 0), (1, 110, 2, 32, 6, 0)]

    with pytest.raises(ValueError, match="in the order of item, day, kind, key"):
        list(net_all(rows, {1: LOW}))


def test_nonsense_is_refused():
    with pytest.raises(ValueError, match="A pack holds 1 or more, not 0"):
        Policy(100, pack=0)
    with pytest.raises(ValueError, match="are 0 or more"):
        Policy(100, shelf_days=-1)
    with pytest.raises(ValueError, match="Quantities are 0 or more"):
        net(LOW, [Lot("bag", -1)])
