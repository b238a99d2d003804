"""Every column of the store's lists that offers to be sorted is sorted, both ways."""

import datetime as dt

import pytest

from inventory import ledger, receipts
from inventory.tables.items import StoreTable
from inventory.tables.lots import LotTable
from inventory.tables.orders import ReceiptTable

APRIL_6 = dt.date(2026, 4, 6)
MAY_4 = dt.date(2026, 5, 4)
LISTS = {"/store/": StoreTable, "/lots/": LotTable, "/receipts/": ReceiptTable}
COLUMNS = [
    (address, column.name)
    for address, table in LISTS.items()
    for column in table([]).columns
    if column.orderable
]


@pytest.fixture
def two_of_everything(sugar, lemons, maker, pantry):
    for number, item in enumerate((sugar, lemons), start=1):
        ledger.receive(
            item=item, quantity=number * 1000, on=APRIL_6 + dt.timedelta(number), by=maker,
            origin=f"gate {number}", use_by=MAY_4 + dt.timedelta(number),
            place=pantry if number == 1 else None,
        )  # fmt: skip
        receipts.expect(
            item=item, quantity=number * 1000, due=MAY_4 + dt.timedelta(number), by=maker,
            shop=f"shop {number}", note=f"note {number}",
        )  # fmt: skip


@pytest.mark.parametrize(("address", "column"), COLUMNS)
def test_a_list_is_sorted_both_ways(makers_client, two_of_everything, address, column):
    up, down = (
        [
            str(row.record)
            for row in makers_client.get(address, {"sort": sort}).context["table"].rows
        ]
        for sort in (column, f"-{column}")
    )

    assert len(up) == 2
    assert sorted(up) == sorted(down)


@pytest.mark.parametrize(
    ("address", "column"),
    [("/store/", "on_hand"), ("/lots/", "use_by"), ("/receipts/", "due"), ("/receipts/", "item")],
)
def test_the_other_way_is_the_other_way(makers_client, two_of_everything, address, column):
    up, down = (
        [
            str(row.record)
            for row in makers_client.get(address, {"sort": sort}).context["table"].rows
        ]
        for sort in (column, f"-{column}")
    )

    assert up == down[::-1]


@pytest.mark.parametrize("address", [*LISTS, "/shortfalls/", "/shopping/"])
@pytest.mark.parametrize("asked", ["sort=nothing", "sort=-", "page=x", "page=999"])
def test_an_order_or_page_that_there_is_not_is_no_failure(makers_client, house, address, asked):
    assert makers_client.get(f"{address}?{asked}").status_code == 200
