"""The sugar, yeast and lemons of a year: what the page of shortfalls says about them."""

import datetime as dt

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from inventory import ledger, receipts, requirements
from inventory.models import Item
from tests.inventory.views.reading import text_of

APRIL_6 = dt.date(2026, 4, 6)
WEEK_1, WEEK_4, WEEK_5 = APRIL_6, dt.date(2026, 4, 27), dt.date(2026, 5, 4)
WEEK_12 = dt.date(2026, 6, 22)


@pytest.fixture
def planned(sugar, yeast, lemons, maker):
    """Needs of three batches in weeks 1, 5 and 12, as in the house's worked example."""
    ledger.receive(item=sugar, quantity=3_000_000, on=APRIL_6, by=maker)
    ledger.receive(item=yeast, quantity=1000, on=APRIL_6, by=maker)
    receipts.expect(item=sugar, quantity=1_000_000, due=WEEK_4, by=maker)
    amounts = {
        sugar: (2_000_000, 2_600_000, 1_800_000),
        yeast: (1000, 1000, 1000),
        lemons: (3000, 4000, 4000),
    }
    for item, quantities in amounts.items():
        for number, day in enumerate((WEEK_1, WEEK_5, WEEK_12)):
            requirements.need(
                item=item, quantity=quantities[number], day=day, by=maker,
                label=f"Batch {number + 1}: Mash", origin=f"batch:{number + 1}",
                link=f"/batches/{number + 1}/",
            )  # fmt: skip


def lines_of(answer) -> list[str]:
    return answer.content.decode().splitlines()


def test_a_house_without_needs_is_told_that_all_is_covered(makers_client, sugar):
    sugar.safety_stock = 0
    sugar.save()

    assert "Everything planned is covered." in text_of(makers_client.get("/shortfalls/"))


def test_what_is_overdue_comes_first_and_says_so_in_words(makers_client, planned):
    page = text_of(makers_client.get("/shortfalls/"))

    first = (
        "Lemons Mon 6 Apr 2026 3 lemons Batch 1: Mash (3 lemons) Mon 30 Mar 2026 overdue"
        " order 3 lemons at once"
    )
    assert first in page
    assert page.index(first) < page.index("White sugar Mon 4 May 2026")
    assert "3 items short, 1 of them overdue to order." in page


def test_each_line_says_how_much_is_missing_whom_it_hurts_and_what_to_buy_by_when(
    makers_client, planned
):
    page = text_of(makers_client.get("/shortfalls/"))

    assert (
        "White sugar Mon 4 May 2026 1.1 kg Batch 2: Mash (600 g) the rest is what should always be"
        " kept Mon 27 Apr 2026 order 2 kg (2 packs)"
    ) in page
    assert (
        "White sugar Mon 22 Jun 2026 900 g Batch 3: Mash (400 g) the rest is what should always be"
        " kept Mon 15 Jun 2026 order 1 kg (1 pack)"
    ) in page
    assert "Wine yeast Mon 4 May 2026 1 sachet Batch 2: Mash (1 sachet) Mon 27 Apr 2026" in page


def test_a_line_leads_to_the_batch_it_hurts(makers_client, planned):
    page = makers_client.get("/shortfalls/").content.decode()

    assert '<a href="/batches/2/">Batch 2: Mash</a>' in page


def test_goods_on_their_way_too_late_are_to_be_asked_for_sooner(makers_client, maker, yeast):
    receipt = receipts.expect(item=yeast, quantity=2000, due=WEEK_5, by=maker)
    requirements.need(item=yeast, quantity=1000, day=WEEK_4, label="pitch", by=maker)

    answer = makers_client.get("/shortfalls/")

    assert (
        "ask for it sooner 2 sachets due Mon 4 May 2026 is wanted on Mon 27 Apr 2026."
        " If that cannot be, buy 2 sachets by Mon 20 Apr 2026."
    ) in text_of(answer)
    assert f"/receipts/{receipt.pk}/move/" in answer.content.decode()


def test_shortfalls_are_narrowed_to_an_item_a_batch_or_some_weeks(makers_client, planned, sugar):
    by_item = text_of(makers_client.get("/shortfalls/", {"item": sugar.pk}))
    by_batch = text_of(makers_client.get("/shortfalls/", {"origin": "batch:1"}))
    by_weeks = lines_of(makers_client.get("/shortfalls/", {"weeks": "8", "format": "csv"}))

    assert "1 item short" in by_item
    assert "1 item short, 1 of them overdue to order." in by_batch
    assert "Batch 1 Batch 2 Batch 3" in by_batch
    assert len(by_weeks) == 1 + 4
    assert not any("2026-06-22" in line for line in by_weeks)


@pytest.mark.parametrize("asked", ["weeks=0", "weeks=521", "weeks=1e400", "item=x", "origin=x"])
def test_what_cannot_be_narrowed_by_is_said_and_not_a_failure(makers_client, planned, asked):
    answer = makers_client.get(f"/shortfalls/?{asked}")

    assert answer.status_code == 422
    assert len(answer.context["filter"].errors) == 1


def test_shortfalls_can_be_taken_away(makers_client, planned):
    head, first, *rest = lines_of(makers_client.get("/shortfalls/", {"format": "csv"}))

    assert head == '"Item","Short on","Short by","Whom it hurts","Order by","What to do"'
    assert first == (
        '"Lemons","2026-04-06","3 pieces","Batch 1: Mash (3 lemons)","2026-03-30",'
        '"order 3 lemons at once"'
    )
    assert len(rest) == 5


@pytest.mark.parametrize("column", ["item", "day", "quantity", "order_day"])
def test_the_list_is_sorted_by_each_column_both_ways(makers_client, planned, column):
    ways = [
        [row.record["line"] for row in answer.context["table"].rows]
        for sort in (column, f"-{column}")
        for answer in [makers_client.get("/shortfalls/", {"sort": sort})]
    ]

    assert len(ways[0]) == len(ways[1]) == 6
    assert ways[0] != ways[1]


def test_the_page_asks_as_many_questions_for_many_items_as_for_few(makers_client, maker, planned):
    def questions():
        with CaptureQueriesContext(connection) as asked:
            makers_client.get("/shortfalls/")
        return len(asked)

    few = questions()
    for number in range(40):
        item = Item.objects.create(name=f"Herb {number}", kind="foraged", base="mg", lead_days=3)
        receipts.expect(item=item, quantity=1000, due=WEEK_12, by=maker)
        requirements.need(item=item, quantity=2000, day=WEEK_5, label="tea", by=maker)

    assert questions() == few
