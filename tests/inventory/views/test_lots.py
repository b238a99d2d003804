import datetime as dt

import pytest

from inventory import ledger, requirements
from inventory.models import Activity, Lot, Movement
from tests.inventory.views.reading import text_of

APRIL_6 = dt.date(2026, 4, 6)


def receive(client, thing, **typed):
    values = {"item": thing.pk, "quantity": "2.5 kg", "on": "6 Apr 2026"}
    return client.post("/lots/add/", values | typed)


def test_what_is_received_is_on_the_shelf_and_can_be_undone(makers_client, sugar, pantry):
    answer = receive(makers_client, sugar, place=pantry.pk, origin="the mill", cost="1.15")

    lot = Lot.objects.get()
    page = text_of(makers_client.get(answer["Location"]))
    assert answer["Location"] == f"/lots/{lot.pk}/"
    assert (ledger.on_hand(lot), lot.place, lot.cost) == (2_500_000, pantry, 115)
    assert f"Received 2.5 kg of White sugar ({lot.mark})" in page
    assert "Undo" in page


def test_the_form_for_one_item_shows_how_it_may_be_typed(makers_client, lemons):
    page = makers_client.get("/lots/add/", {"item": lemons.pk}).content.decode()

    assert "Receive Lemons" in page
    assert "For example 12 lemons." in page
    assert f'<input type="hidden" name="item" value="{lemons.pk}"' in page


def test_an_address_that_asks_for_no_item_shows_all_of_them(makers_client, sugar):
    page = makers_client.get("/lots/add/", {"item": "x"}).content.decode()

    assert "choose an item" in page


def test_the_day_to_use_it_by_follows_from_how_long_the_item_keeps(makers_client, lemons):
    lemons.shelf_days_sealed = 14
    lemons.save()

    receive(makers_client, lemons, quantity="4")

    assert Lot.objects.get().use_by == dt.date(2026, 4, 20)


@pytest.mark.parametrize(
    ("box", "typed"),
    [
        ("quantity", ""),
        ("quantity", "0 g"),
        ("quantity", "2.5"),
        ("quantity", "-1 kg"),
        ("quantity", "3 furlongs"),
        ("on", "31 Feb 2026"),
        ("use_by", "year 0"),
        ("cost", "1,155"),
        ("item", "999999"),
        ("item", ""),
        ("place", "x"),
        ("origin", "x" * 121),
    ],
)
def test_what_cannot_be_received_is_said_at_its_box(makers_client, sugar, box, typed):
    answer = receive(makers_client, sugar, **{"origin": "the mill", box: typed})

    assert answer.status_code == 422
    assert list(answer.context["form"].errors) == [box]
    assert 'value="6 Apr 2026"' in answer.content.decode() or box == "on"
    assert not Lot.objects.exists()


def test_using_some_of_a_lot_says_what_was_used(makers_client, sugar_lot):
    typed = {"quantity": "500 g", "on": "2026-04-06", "reason": "cake"}

    answer = makers_client.post(f"/lots/{sugar_lot.pk}/use/", typed, follow=True)

    assert answer.redirect_chain == [(f"/lots/{sugar_lot.pk}/", 302)]
    assert "Used 500 g of White sugar" in text_of(answer)
    assert ledger.on_hand(sugar_lot) == 2_500_000


def test_more_than_there_is_is_refused_and_what_was_typed_stays(makers_client, sugar_lot):
    typed = {"quantity": "3001 g", "on": "2026-04-06", "reason": "cake"}

    answer = makers_client.post(f"/lots/{sugar_lot.pk}/use/", typed)

    page = answer.content.decode()
    assert answer.status_code == 422
    assert "quantity" in answer.context["form"].errors
    assert 'value="3001 g"' in page
    assert 'value="cake"' in page
    assert ledger.on_hand(sugar_lot) == 3_000_000


def test_the_same_form_sent_twice_counts_once(makers_client, sugar_lot):
    typed = {"quantity": "500 g", "on": "2026-04-06", "reason": "", "token": "abc"}

    statuses = [
        makers_client.post(f"/lots/{sugar_lot.pk}/use/", typed).status_code for _ in range(2)
    ]

    assert statuses == [302, 302]
    assert ledger.on_hand(sugar_lot) == 2_500_000


def test_a_refused_form_may_be_mended_and_sent_again(makers_client, sugar_lot):
    address, typed = f"/lots/{sugar_lot.pk}/use/", {"on": "2026-04-06", "token": "abc"}

    refused = makers_client.post(address, typed | {"quantity": "4 kg"})
    mended = makers_client.post(address, typed | {"quantity": "1 kg"})

    assert (refused.status_code, mended.status_code) == (422, 302)
    assert ledger.on_hand(sugar_lot) == 2_000_000


def test_a_count_sets_the_lot_to_what_is_there(makers_client, sugar_lot):
    typed = {"counted": "2800 g", "on": "2026-04-06"}

    answer = makers_client.post(f"/lots/{sugar_lot.pk}/count/", typed, follow=True)

    assert "200 g less than recorded" in text_of(answer)
    assert ledger.on_hand(sugar_lot) == 2_800_000


def test_a_count_of_nothing_empties_the_lot(makers_client, sugar_lot):
    makers_client.post(f"/lots/{sugar_lot.pk}/count/", {"counted": "0 g", "on": "2026-04-06"})

    assert ledger.on_hand(sugar_lot) == 0


@pytest.mark.parametrize(("way", "held"), [("more", 3_100_000), ("less", 2_900_000)])
def test_a_lot_is_put_right_either_way(makers_client, sugar_lot, way, held):
    typed = {"direction": way, "quantity": "100 g", "on": "2026-04-06", "reason": "a slip"}

    makers_client.post(f"/lots/{sugar_lot.pk}/adjust/", typed)

    assert ledger.on_hand(sugar_lot) == held


def test_a_lot_is_put_right_only_with_a_way_and_a_reason(makers_client, sugar_lot):
    typed = {"quantity": "100 g", "on": "2026-04-06"}

    answer = makers_client.post(f"/lots/{sugar_lot.pk}/adjust/", typed)

    assert answer.status_code == 422
    assert list(answer.context["form"].errors) == ["direction", "reason"]


def test_all_that_is_left_is_thrown_out_unless_an_amount_is_typed(makers_client, sugar_lot):
    typed = {"on": "2026-04-06", "reason": "ants"}

    makers_client.post(f"/lots/{sugar_lot.pk}/throw-out/", typed | {"quantity": "1 kg"})
    after_some = ledger.on_hand(sugar_lot)
    makers_client.post(f"/lots/{sugar_lot.pk}/throw-out/", typed)

    assert (after_some, ledger.on_hand(sugar_lot)) == (2_000_000, 0)
    assert Movement.objects.last().reason == "thrown out: ants"


def test_what_is_written_on_a_lot_can_be_changed(makers_client, sugar_lot):
    typed = {"version": "1", "origin": "the mill", "use_by": "1 May 2026", "cost": "3.45"}

    makers_client.post(f"/lots/{sugar_lot.pk}/edit/", typed)

    lot = Lot.objects.get()
    assert (lot.origin, lot.use_by, lot.cost) == ("the mill", dt.date(2026, 5, 1), 345)
    assert (lot.place, lot.version) == (None, 2)


def test_lots_are_listed_with_the_first_to_expire_first(makers_client, maker, sugar, sugar_lot):
    late = ledger.receive(item=sugar, quantity=1000, on=APRIL_6, by=maker, use_by=APRIL_6)

    page = text_of(makers_client.get("/lots/"))

    assert page.index(late.mark) < page.index(sugar_lot.mark)


def test_lots_past_their_date_are_found_also_by_when_they_were_opened(
    makers_client, maker, sugar, sugar_lot
):
    sugar.shelf_days_opened = 3
    sugar.save()
    opened = ledger.receive(item=sugar, quantity=1000, on=APRIL_6, by=maker)
    Lot.objects.filter(pk=opened.pk).update(opened=dt.date(2026, 4, 2))

    page = text_of(makers_client.get("/lots/", {"state": "past"}))

    assert opened.mark in page
    assert "Sun 5 Apr 2026 past its date" in page
    assert sugar_lot.mark not in page


def test_a_used_up_lot_is_kept_under_its_own_heading(makers_client, maker, sugar_lot):
    ledger.issue(lot=sugar_lot, quantity=3_000_000, on=APRIL_6, by=maker)

    on_the_shelf = text_of(makers_client.get("/lots/"))
    used_up = text_of(makers_client.get("/lots/", {"state": "gone"}))

    assert sugar_lot.mark not in on_the_shelf
    assert sugar_lot.mark in used_up


def test_undo_from_the_message_takes_the_use_back(makers_client, sugar_lot):
    typed = {"quantity": "500 g", "on": "2026-04-06"}
    makers_client.post(f"/lots/{sugar_lot.pk}/use/", typed)
    done = Activity.objects.first()

    makers_client.post(f"/household/activity/{done.pk}/undo/")

    assert ledger.on_hand(sugar_lot) == 3_000_000


def test_a_lot_says_for_whom_it_is_spoken_for_oldest_first(makers_client, maker, sugar):
    """1500 g and 1250 g, of which 2000 g are needed while both are good."""
    for quantity, use_by in ((1_500_000, dt.date(2026, 9, 14)), (1_250_000, dt.date(2026, 10, 2))):
        ledger.receive(item=sugar, quantity=quantity, on=APRIL_6, by=maker, use_by=use_by)
    needed = requirements.need(
        item=sugar, quantity=2_000_000, day=dt.date(2026, 9, 1), label="Bramble: Mash", by=maker
    )

    before = [text_of(makers_client.get(lot.get_absolute_url())) for lot in Lot.objects.all()]
    requirements.move(moves={needed.pk: dt.date(2026, 9, 20)}, by=maker)
    after = [text_of(makers_client.get(lot.get_absolute_url())) for lot in Lot.objects.all()]

    assert "Bramble: Mash Tue 1 Sep 2026 1.5 kg" in before[0]
    assert "Bramble: Mash Tue 1 Sep 2026 500 g" in before[1]
    assert "Nothing of it is spoken for." in after[0]
    assert "Bramble: Mash Sun 20 Sep 2026 1.25 kg" in after[1]
