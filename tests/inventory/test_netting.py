"""Netting one item: the household's own walk-throughs and what the rule leaves open.

Quantities are thousandths; every figure is exact.
"""

from datetime import date

import pytest

from inventory.netted import Lot, Policy, Receipt, Requirement
from inventory.netting import net


def day(text):
    return date.fromisoformat(text).toordinal()


TODAY = day("2026-04-06")
WEEK_1, WEEK_4, WEEK_5, WEEK_12 = TODAY, TODAY + 21, TODAY + 28, TODAY + 77
ORDER_BY_30_MAR, ORDER_BY_27_APR = day("2026-03-30"), day("2026-04-27")
ORDER_BY_15_JUN = day("2026-06-15")


def needs(first, second, third):
    return [
        Requirement("week 1", WEEK_1, first),
        Requirement("week 5", WEEK_5, second),
        Requirement("week 12", WEEK_12, third),
    ]


def on_hand_by_week(netted):
    days = [TODAY + 7 * week for week in range(12)]
    return [[held for event, held in netted.on_hand if event <= day][-1] for day in days]


def buying(netted):
    return [(o.order_day, o.quantity, o.overdue) for o in netted.orders]


def test_sugar_is_ordered_by_the_bag_in_time_and_keeps_its_safety_stock():
    policy = Policy(TODAY, lead_days=7, pack=1_000_000, safety=500_000)

    netted = net(
        policy,
        [Lot("bag", 3_000_000)],
        [Receipt("on its way", WEEK_4, 1_000_000)],
        needs(2_000_000, 2_600_000, 1_800_000),
    )

    assert on_hand_by_week(netted) == [1_000_000] * 3 + [2_000_000] + [1_400_000] * 7 + [600_000]
    assert [(s.day, s.quantity) for s in netted.shortfalls] == [
        (WEEK_5, 1_100_000),
        (WEEK_12, 900_000),
    ]
    assert buying(netted) == [
        (ORDER_BY_27_APR, 2_000_000, False),
        (ORDER_BY_15_JUN, 1_000_000, False),
    ]
    assert netted.sooner == []


def test_one_pack_of_yeast_is_ordered_and_none_is_left():
    netted = net(
        Policy(TODAY, lead_days=7, pack=2000), [Lot("sachet", 1000)], [], needs(1000, 1000, 1000)
    )

    assert buying(netted) == [(ORDER_BY_27_APR, 2000, False)]
    assert netted.taken == [("week 1", "sachet", 1000)]
    assert netted.orders[0].covers == (("week 5", 1000), ("week 12", 1000))
    assert netted.on_hand[-1] == (WEEK_12, 0)


@pytest.mark.parametrize("today", [day("2026-03-31"), day("2026-04-01"), TODAY])
def test_yeast_past_its_date_makes_the_first_pack_overdue_and_that_pack_covers_two_weeks(today):
    netted = net(
        Policy(today, lead_days=7, pack=2000),
        [Lot("sachet", 1000, day("2026-04-01"))],
        [],
        needs(1000, 1000, 1000),
    )

    assert buying(netted) == [(ORDER_BY_30_MAR, 2000, True), (ORDER_BY_15_JUN, 2000, False)]
    assert netted.orders[0].covers == (("week 1", 1000), ("week 5", 1000))
    assert netted.orders[1].covers == (("week 12", 1000),)
    assert netted.expired == [("sachet", day("2026-04-02"), 1000, "lot")]
    assert netted.on_hand[-1] == (WEEK_12, 1000)


def test_lemons_are_ordered_singly_with_the_overdue_ones_first():
    netted = net(Policy(TODAY, lead_days=7, pack=1000), [], [], needs(3000, 4000, 4000))

    assert buying(netted) == [
        (ORDER_BY_30_MAR, 3000, True),
        (ORDER_BY_27_APR, 4000, False),
        (ORDER_BY_15_JUN, 4000, False),
    ]
    assert [s.advice for s in netted.shortfalls] == ["overdue", "order", "order"]
    assert netted.shortfalls[0].hurts == (("week 1", 3000),)


FREEZER = [
    Lot("October", 1_250_000, day("2026-10-02")),
    Lot("September", 1_500_000, day("2026-09-14")),
]


def test_the_bramble_that_expires_first_is_used_first():
    need = Requirement("wine", day("2026-09-01"), 2_000_000)

    netted = net(Policy(TODAY), FREEZER, [], [need])

    assert netted.taken == [("wine", "September", 1_500_000), ("wine", "October", 500_000)]
    assert netted.on_hand[-1] == (day("2026-09-01"), 750_000)
    assert netted.shortfalls == []
    assert netted.expired == [("October", day("2026-10-03"), 750_000, "lot")]


def test_bramble_past_its_date_is_not_offered():
    need = Requirement("wine", day("2026-09-20"), 2_000_000)

    netted = net(Policy(TODAY), FREEZER, [], [need])

    assert netted.taken == [("wine", "October", 1_250_000)]
    assert netted.expired == [("September", day("2026-09-15"), 1_500_000, "lot")]
    assert netted.on_hand[:2] == [(TODAY, 2_750_000), (day("2026-09-15"), 1_250_000)]
    assert netted.shortfalls[0].missing == 750_000
    assert netted.shortfalls[0].hurts == (("wine", 750_000),)


def test_the_last_day_still_counts_and_undated_stock_is_used_last():
    lots = [Lot("a", 10), Lot("b", 10, 130), Lot("c", 10, 120)]

    netted = net(Policy(100), lots, [], [Requirement("must", 120, 25)])

    assert netted.taken == [("must", "c", 10), ("must", "b", 10), ("must", "a", 5)]


def test_expired_stock_of_today_covers_nothing_and_the_order_after_it_does():
    netted = net(Policy(100), [Lot("old", 10, 99)], [], [Requirement("must", 100, 4)])

    assert netted.on_hand == [(100, 0)]
    assert netted.orders == [(100, 100, 4, False, (("must", 4),))]


def test_planned_goods_with_a_short_shelf_life_do_not_cover_a_need_after_it():
    policy = Policy(100, pack=10, shelf_days=5)

    netted = net(policy, [], [], [Requirement("first", 100, 4), Requirement("second", 106, 4)])

    assert [order.arrive_day for order in netted.orders] == [100, 106]
    assert netted.expired == [(0, 106, 6, "order"), (1, 112, 6, "order")]


def test_needs_of_one_day_make_one_shortfall_that_names_each_of_them():
    dated = [Requirement("gorse", 110, 6), Requirement("rhubarb", 110, 7)]

    netted = net(Policy(100, lead_days=3, pack=5, minimum=12), [Lot("bag", 8)], [], dated)

    assert netted.shortfalls == [(110, 5, 5, (("rhubarb", 5),), False, "order")]
    assert netted.orders == [(110, 107, 15, False, (("rhubarb", 5),))]


def test_what_is_late_counts_today_and_late_goods_are_named():
    netted = net(
        Policy(100),
        [],
        [Receipt("late", 90, 10), Receipt("punctual", 100, 5)],
        [Requirement("overslept", 80, 12)],
    )

    assert netted.on_hand == [(100, 3)]
    assert netted.late_receipts == [("late", 90, 10)]
    assert netted.awaited == [("overslept", "late", 10), ("overslept", "punctual", 2)]
    assert netted.shortfalls == []


def test_goods_that_come_too_little_too_late_are_asked_for_and_the_rest_is_bought():
    netted = net(
        Policy(100, lead_days=20, pack=4),
        [],
        [Receipt("parcel", 130, 6)],
        [Requirement("must", 110, 9)],
    )

    assert netted.sooner == [("parcel", 130, 110, 6, 8, 90, True)]
    assert netted.shortfalls == [(110, 9, 9, (("must", 9),), True, "sooner")]
    assert netted.orders == [(110, 90, 4, True, (("must", 3),))]
    assert netted.awaited == [("must", "parcel", 6)]
