import datetime as dt

import pytest

from inventory import ledger, receipts
from inventory.models import Lot, Receipt
from tests.inventory.views.reading import text_of

APRIL_27 = dt.date(2026, 4, 27)


@pytest.fixture
def expected(sugar, maker):
    return receipts.expect(
        item=sugar, quantity=2_000_000, due=APRIL_27, by=maker, shop="The market"
    )


def test_goods_on_their_way_are_written_down(makers_client, sugar):
    typed = {"item": sugar.pk, "quantity": "2 kg", "due": "27 Apr", "note": "by post"}

    answer = makers_client.post("/receipts/add/", typed)

    receipt = Receipt.objects.get()
    assert answer["Location"] == f"/items/{sugar.pk}/"
    assert (receipt.quantity, receipt.due, receipt.note) == (2_000_000, APRIL_27, "by post")


def test_an_order_from_the_shopping_list_is_filled_in_and_leads_back_there(makers_client, sugar):
    address = f"/receipts/add/?item={sugar.pk}&quantity=2000000&due=2026-05-04&then=shopping"
    form = makers_client.get(address).context["form"]

    shown = {name: form[name].value() for name in ("quantity", "due")}
    answer = makers_client.post(address, shown | {"item": sugar.pk})

    assert shown == {"quantity": "2 kg", "due": "4 May 2026"}
    assert answer["Location"] == "/shopping/"
    assert Receipt.objects.get().quantity == 2_000_000


@pytest.mark.parametrize(
    "asked", ["quantity=-1", "due=0001-01-01", "then=//elsewhere", "quantity=1e9"]
)
def test_an_address_that_asks_for_nonsense_fills_nothing_in(makers_client, sugar, asked):
    answer = makers_client.get(f"/receipts/add/?item={sugar.pk}&{asked}")

    assert answer.status_code == 200
    assert answer.context["form"]["quantity"].value() is None


def test_late_goods_are_marked_in_words(makers_client, sugar, maker):
    receipts.expect(item=sugar, quantity=1000, due=dt.date(2026, 4, 2), by=maker)

    assert "Thu 2 Apr 2026 late" in text_of(makers_client.get("/receipts/"))


def test_all_of_it_came(makers_client, sugar, expected):
    form = makers_client.get(f"/receipts/{expected.pk}/arrive/").context["form"]

    typed = {"quantity": form["quantity"].value(), "on": "2026-04-06"}
    answer = makers_client.post(f"/receipts/{expected.pk}/arrive/", typed)

    lot = Lot.objects.get()
    expected.refresh_from_db()
    assert answer["Location"] == f"/lots/{lot.pk}/"
    assert (ledger.on_hand(lot), lot.origin, expected.state) == (2_000_000, "The market", "arrived")


def test_if_part_of_it_came_the_rest_stays_expected(makers_client, expected):
    typed = {"quantity": "500 g", "on": "2026-04-06"}

    makers_client.post(f"/receipts/{expected.pk}/arrive/", typed)

    expected.refresh_from_db()
    assert (expected.quantity, expected.state) == (1_500_000, "expected")


def test_what_came_already_cannot_come_again_and_says_so(makers_client, maker, expected):
    receipts.arrive(receipt=expected, quantity=2_000_000, on=APRIL_27, by=maker)

    typed = {"quantity": "2 kg", "on": "2026-04-27"}
    answer = makers_client.post(f"/receipts/{expected.pk}/arrive/", typed)

    assert answer.status_code == 422
    assert "not on its way any more: arrived" in text_of(answer)
    assert Lot.objects.count() == 1


def test_goods_come_on_another_day(makers_client, expected):
    answer = makers_client.post(f"/receipts/{expected.pk}/move/", {"due": "4 May 2026"})

    expected.refresh_from_db()
    assert answer["Location"] == "/receipts/"
    assert expected.due == dt.date(2026, 5, 4)


def test_goods_that_will_not_come_are_no_longer_expected(makers_client, expected):
    first = makers_client.post(f"/receipts/{expected.pk}/cancel/", follow=True)
    again = makers_client.post(f"/receipts/{expected.pk}/cancel/", follow=True)

    expected.refresh_from_db()
    assert expected.state == "cancelled"
    assert "will not come" in text_of(first)
    assert "not on its way any more: cancelled" in text_of(again)


def test_goods_are_never_taken_off_the_list_by_following_a_link(makers_client, expected):
    assert makers_client.get(f"/receipts/{expected.pk}/cancel/").status_code in (403, 405)
    assert Receipt.objects.get().state == "expected"


def test_what_was_cancelled_is_found_on_asking(makers_client, maker, expected):
    receipts.cancel(receipt=expected, by=maker)

    assert "White sugar" not in text_of(makers_client.get("/receipts/"))
    assert "White sugar" in text_of(makers_client.get("/receipts/", {"state": "cancelled"}))
