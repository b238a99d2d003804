import datetime as dt

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from inventory import items, ledger, receipts, requirements
from inventory.models import Item
from tests.inventory.views.reading import text_of

TYPED = {"name": "Honey", "kind": "ingredient", "base": "mg"}
MAY_4 = dt.date(2026, 5, 4)


def add(client, **typed):
    return client.post("/items/add/", TYPED | typed)


def test_an_empty_store_says_the_next_step(makers_client):
    page = makers_client.get("/store/").content.decode()

    assert "No items yet" in page
    assert 'href="/items/add/"' in page


def test_the_store_shows_what_is_there_spoken_for_on_its_way_and_short(
    makers_client, maker, sugar, sugar_lot
):
    receipts.expect(item=sugar, quantity=1_000_000, due=dt.date(2026, 4, 27), by=maker)
    requirements.need(item=sugar, quantity=4_600_000, day=MAY_4, label="jam", by=maker)

    page = text_of(makers_client.get("/store/"))

    assert "White sugar 3 kg 3 kg 1 kg 1.1 kg Mon 4 May 2026" in page


def test_an_item_below_what_should_always_be_kept_is_running_low(makers_client, maker, sugar):
    ledger.receive(item=sugar, quantity=499_000, on=MAY_4, by=maker)

    assert "running low" in text_of(makers_client.get("/store/"))


def test_a_lot_past_its_date_is_marked_in_the_store(makers_client, maker, lemons):
    gone_by = dt.date(2026, 4, 5)
    ledger.receive(item=lemons, quantity=3000, on=gone_by, by=maker, use_by=gone_by)

    assert "past its date" in text_of(makers_client.get("/store/"))


def test_the_store_is_narrowed_by_words_and_by_kind(makers_client, sugar, yeast, lemons):
    by_word = text_of(makers_client.get("/store/", {"q": "CORNER lem"}))
    by_kind = text_of(makers_client.get("/store/", {"kind": "yeast"}))

    assert "Lemons" in by_word
    assert "White sugar" not in by_word
    assert "Wine yeast" in by_kind
    assert "Lemons" not in by_kind


def test_the_store_can_be_taken_away(makers_client, sugar, sugar_lot):
    answer = makers_client.get("/store/", {"format": "csv"})

    lines = answer.content.decode().splitlines()
    assert lines[0].startswith('"Item","On the shelf","Spoken for"')
    assert lines[1].startswith('"White sugar","3000 g"')


def test_the_store_asks_as_many_questions_for_many_items_as_for_one(makers_client, maker, sugar):
    def questions():
        with CaptureQueriesContext(
            connection,
        ) as asked:
            makers_client.get("/store/")
        return len(asked)

    few = questions()
    for number in range(25):
        item = Item.objects.create(name=f"Herb {number}", kind="foraged", base="mg")
        ledger.receive(item=item, quantity=1000, on=MAY_4, by=maker)
        requirements.need(item=item, quantity=2000, day=MAY_4, label="tea", by=maker)

    assert questions() == few


def test_the_page_of_an_item_says_day_by_day_what_becomes_of_it(
    makers_client, maker, sugar, sugar_lot
):
    requirements.need(
        item=sugar, quantity=4_600_000, day=MAY_4, label="Gorse 2026: Mash", by=maker,
        origin="batch:1", link="/batches/1/",
    )  # fmt: skip

    answer = makers_client.get(f"/items/{sugar.pk}/")

    assert "Mon 4 May 2026 Gorse 2026: Mash 4.6 kg 3 kg 1.4 kg 2.1 kg" in text_of(answer)
    assert '<a href="/batches/1/">Gorse 2026: Mash</a>' in answer.content.decode()


def test_a_guest_reads_an_item_but_is_offered_nothing_to_do(guests_client, sugar, sugar_lot):
    page = guests_client.get(f"/items/{sugar.pk}/").content.decode()

    assert sugar_lot.mark in page
    assert "/use/" not in page
    assert "/edit/" not in page


def test_a_new_item_is_read_by_the_way_of_counting_chosen_with_it(makers_client):
    answer = add(
        makers_client, pack="1 lb", teaspoon="7 g", pack_price="4.60", density_g_per_l="1420",
        safety_stock="0.5 kg", lead_days="14",
    )  # fmt: skip

    honey = Item.objects.get()
    assert answer["Location"] == f"/items/{honey.pk}/"
    assert (honey.pack, honey.teaspoon, honey.pack_price) == (453_592, 7000, 460)
    assert (honey.density_g_per_l, honey.safety_stock, honey.lead_days) == (1420, 500_000, 14)


def test_pieces_are_typed_as_bare_numbers(makers_client):
    add(makers_client, base="mpc", piece_word="sachet", pack="2 sachets", minimum_order="4")

    item = Item.objects.get()
    assert (item.pack, item.minimum_order) == (2000, 4000)


def test_an_item_by_the_piece_is_bought_whole_unless_a_pack_is_named(makers_client):
    add(makers_client, base="mpc")

    assert Item.objects.get().pack == 1000


def test_an_item_without_a_way_of_counting_is_refused_and_nothing_typed_is_lost(makers_client):
    answer = add(makers_client, base="", pack="1 kg", notes="From the gate")

    page = answer.content.decode()
    assert answer.status_code == 422
    assert "Say whether it is counted by weight, by volume or by piece." in page
    assert 'value="1 kg"' in page
    assert "From the gate" in page
    assert not Item.objects.exists()


@pytest.mark.parametrize(
    ("box", "typed"),
    [
        ("pack", "1 L"),
        ("pack", "3"),
        ("pack", "0 g"),
        ("pack_price", "1.155"),
        ("pack_price", "-1"),
        ("lead_days", "731"),
        ("lead_days", "1.5"),
        ("density_g_per_l", "NaN"),
        ("kind", "poison"),
        ("base", "t"),
        ("name", ""),
        ("name", "x" * 81),
    ],
)
def test_what_cannot_be_read_is_said_at_its_box(makers_client, box, typed):
    answer = add(makers_client, **{box: typed})

    assert answer.status_code == 422
    assert list(answer.context["form"].errors) == [box]
    assert not Item.objects.exists()


def test_a_name_that_is_taken_is_refused_at_its_box(makers_client, sugar):
    answer = add(makers_client, name="White sugar")

    assert answer.status_code == 422
    assert list(answer.context["form"].errors) == ["name"]


def test_an_item_is_changed_with_its_amounts_shown_as_they_would_be_typed(makers_client, sugar):
    form = makers_client.get(f"/items/{sugar.pk}/edit/").context["form"]
    shown = {name: form[name].value() for name in form.fields if form[name].value() is not None}

    answer = makers_client.post(f"/items/{sugar.pk}/edit/", shown | {"safety_stock": "750 g"})

    before = Item.objects.values().get()
    assert answer.status_code == 302
    assert (shown["pack"], shown["teaspoon"], shown["pack_price"]) == ("1 kg", "4.2 g", "1.15")
    assert (before["pack"], before["teaspoon"], before["pack_price"]) == (1_000_000, 4200, 115)
    assert before["safety_stock"] == 750_000


def test_how_an_item_in_use_is_counted_stays(makers_client, sugar, sugar_lot):
    typed = {"name": "White sugar", "kind": "ingredient", "base": "uL", "version": "1"}

    answer = makers_client.post(f"/items/{sugar.pk}/edit/", typed)

    assert answer.status_code == 422
    assert "stays counted by weight" in answer.context["form"].errors["base"][0]


def test_the_second_of_two_editors_sees_both_texts(makers_client, maker, sugar):
    items.edit_item(item=sugar, version=1, values={"shop": "The market"}, by=maker)
    typed = {"name": "Sugar", "kind": "ingredient", "base": "mg", "shop": "Mill", "version": "1"}

    answer = makers_client.post(f"/items/{sugar.pk}/edit/", typed)

    assert answer.status_code == 409
    assert "The market" in answer.content.decode()
    assert "Mill" in answer.content.decode()


def test_an_item_goes_out_of_sight_and_comes_back(makers_client, sugar):
    makers_client.post(f"/items/{sugar.pk}/archive/")
    hidden = text_of(makers_client.get("/store/"))
    kept = text_of(makers_client.get("/store/", {"which": "archived"}))
    makers_client.post(f"/items/{sugar.pk}/archive/")

    assert "White sugar" not in hidden.split("CSV")[-1]
    assert "White sugar" in kept
    assert "White sugar" in text_of(makers_client.get("/store/"))


def test_an_item_that_is_needed_stays_in_sight_and_says_why(makers_client, maker, sugar):
    requirements.need(item=sugar, quantity=1, day=MAY_4, label="jam", by=maker)

    answer = makers_client.post(f"/items/{sugar.pk}/archive/", follow=True)

    assert "White sugar is still needed for jam." in text_of(answer)
    assert not Item.objects.get().archived


def test_the_page_of_an_item_draws_its_shelf(makers_client, maker, sugar, sugar_lot):
    requirements.need(item=sugar, quantity=4_600_000, day=MAY_4, label="jam", by=maker)

    page = text_of(makers_client.get(sugar.get_absolute_url()))

    assert "White sugar: short by 2.1 kg on Mon 4 May 2026." in page


def test_the_page_of_an_item_to_which_nothing_happens_draws_nothing(makers_client, lemons):
    page = makers_client.get(lemons.get_absolute_url()).content.decode()

    assert "picture-drawing" not in page
