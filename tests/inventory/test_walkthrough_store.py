"""Walk-throughs 3 and 6: oldest first, and what must be bought by when, to the digit."""

import datetime as dt

import pytest

from inventory import ledger, receipts, requirements
from inventory.models import Item, Reservation
from inventory.shopping import shopping_lines
from inventory.shortfalls import outlook, shortfalls
from tests.conftest import FIRST_MONDAY, KILO, PIECE


def week(number):
    return FIRST_MONDAY + dt.timedelta(weeks=number - 1)


NEEDS = [(1, "Gorse"), (5, "Rhubarb"), (12, "Meadowsweet")]


def need(item, quantities, by):
    for (number, label), quantity in zip(NEEDS, quantities, strict=True):
        requirements.need(item=item, quantity=quantity, day=week(number), label=label, by=by)


@pytest.fixture
def planned(sugar, yeast, lemons, maker):
    """The store of walk-through 6 before anything is bought."""
    ledger.receive(item=sugar, quantity=3 * KILO, on=FIRST_MONDAY, by=maker)
    ledger.receive(item=yeast, quantity=PIECE, on=FIRST_MONDAY, by=maker)
    receipts.expect(item=sugar, quantity=KILO, due=week(4), by=maker)
    need(sugar, [2_000_000, 2_600_000, 1_800_000], maker)
    need(yeast, [PIECE, PIECE, PIECE], maker)
    need(lemons, [3 * PIECE, 4 * PIECE, 4 * PIECE], maker)


def orders():
    return [
        (line.item.name, line.quantity, line.packs, f"{line.order_day}", line.overdue)
        for line in shopping_lines(today=FIRST_MONDAY)
    ]


def by_week(item):
    """On hand at the end of each of twelve weeks."""
    rows = outlook(item=item, today=FIRST_MONDAY)
    return [[row.on_hand for row in rows if row.day <= week(n)][-1] for n in range(1, 13)]


def test_sugar_on_hand_week_by_week(planned, sugar):
    grams = [1000, 1000, 1000, 2000, 1400, 1400, 1400, 1400, 1400, 1400, 1400, 600]

    assert by_week(sugar) == [1000 * week_end for week_end in grams]


def test_sugar_is_short_in_weeks_five_and_twelve(planned, sugar):
    [found] = shortfalls(today=FIRST_MONDAY, item=sugar)

    assert [(line.day, line.quantity) for line in found.lines] == [
        (week(5), 1_100_000),
        (week(12), 900_000),
    ]
    assert [hurt.label for line in found.lines for hurt in line.hurts] == ["Rhubarb", "Meadowsweet"]
    assert [quantity for quantity, _ in found.lacking.values()] == [600_000, 1_800_000]


def test_what_must_be_bought_by_when_with_the_overdue_lemons_first(planned):
    assert orders() == [
        ("Lemons", 3000, 3, "2026-03-30", True),
        ("Wine yeast", 2000, 1, "2026-04-27", False),
        ("Lemons", 4000, 4, "2026-04-27", False),
        ("White sugar", 2_000_000, 2, "2026-04-27", False),
        ("Lemons", 4000, 4, "2026-06-15", False),
        ("White sugar", 1_000_000, 1, "2026-06-15", False),
    ]


def test_one_pack_of_yeast_lasts_to_the_end_and_none_is_left(planned, yeast):
    assert by_week(yeast)[-1] == 0


def test_when_the_yeast_has_expired_its_first_pack_is_overdue_and_one_sachet_is_left(
    planned, yeast, maker
):
    lot = yeast.lots.get()

    ledger.edit_lot(lot, version=lot.version, values={"use_by": dt.date(2026, 4, 1)}, by=maker)

    bought = [order for order in orders() if order[0] == "Wine yeast"]
    assert bought == [
        ("Wine yeast", 2000, 1, "2026-03-30", True),
        ("Wine yeast", 2000, 1, "2026-06-15", False),
    ]
    [found] = shortfalls(today=FIRST_MONDAY, item=yeast)
    assert [hurt.label for hurt in found.orders[0].covers] == ["Gorse", "Rhubarb"]
    assert by_week(yeast)[-1] == 1000


def test_a_received_order_ends_its_shortfall(planned, lemons, maker):
    ledger.receive(item=lemons, quantity=11 * PIECE, on=FIRST_MONDAY, by=maker)

    assert shortfalls(today=FIRST_MONDAY, item=lemons) == []


@pytest.fixture
def freezer(house, maker):
    """Two lots of frozen bramble that keep twelve months."""
    bramble = Item.objects.create(name="Bramble, frozen", kind="foraged", base="mg")
    for frozen, grams in [(dt.date(2025, 9, 14), 1500), (dt.date(2025, 10, 2), 1250)]:
        ledger.receive(
            item=bramble,
            quantity=1000 * grams,
            on=frozen,
            by=maker,
            use_by=frozen.replace(year=2026),
        )
    return bramble


def promised():
    rows = Reservation.objects.order_by("lot").values_list("lot__received", "quantity")
    return [(received.isoformat(), quantity // 1000) for received, quantity in rows]


def test_the_oldest_bramble_is_promised_first(freezer, maker):
    requirements.need(
        item=freezer, quantity=2_000_000, day=dt.date(2026, 9, 1), label="Bramble", by=maker
    )

    assert promised() == [("2025-09-14", 1500), ("2025-10-02", 500)]
    assert ledger.stock()[freezer.pk] - 2_000_000 == 750_000


def test_after_the_first_lot_is_past_its_date_only_the_second_is_offered(freezer, maker):
    wanted = requirements.need(
        item=freezer, quantity=2_000_000, day=dt.date(2026, 9, 1), label="Bramble", by=maker
    )

    requirements.move(moves={wanted.pk: dt.date(2026, 9, 20)}, by=maker)

    [found] = shortfalls(today=FIRST_MONDAY)
    assert promised() == [("2025-10-02", 1250)]
    assert found.lines[0].missing == 750_000
