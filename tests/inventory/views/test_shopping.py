import datetime as dt

import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from inventory import ledger, requirements
from inventory.models import Activity, Item, Lot
from tests.inventory.views.reading import text_of

MAY_4 = dt.date(2026, 5, 4)


@pytest.fixture
def wanted(sugar, yeast, lemons, maker):
    sugar.safety_stock = 0
    sugar.save()
    requirements.need(item=sugar, quantity=1_600_000, day=MAY_4, label="Gorse: Mash", by=maker)
    requirements.need(item=yeast, quantity=1000, day=MAY_4, label="Gorse: Yeast", by=maker)
    requirements.need(
        item=lemons, quantity=3000, day=dt.date(2026, 4, 6), label="Gorse: Mash", by=maker
    )


def test_nothing_to_buy_is_said_in_words(makers_client, house):
    page = text_of(makers_client.get("/shopping/"))

    assert "Nothing is to be bought: everything planned is covered." in page


def test_the_list_goes_by_shop_with_what_is_overdue_first(makers_client, wanted):
    page = text_of(makers_client.get("/shopping/"))

    assert "The corner shop overdue Lemons 3 lemons overdue since Mon 30 Mar 2026" in page
    assert "White sugar 2 kg (2 packs) 2.30 order by Mon 27 Apr 2026 for Gorse: Mash" in page
    assert page.index("The corner shop") < page.index("The brew cupboard")
    assert "2.30 in all, as far as prices are noted." in page


def test_a_line_ticked_off_is_received_and_gone_from_the_list(makers_client, sugar, wanted):
    shown = makers_client.get("/shopping/").context["shops"]
    form = next(
        form for _, lines, *_ in shown for line, form in lines if line.item.name == "White sugar"
    )
    typed = {name: form[name].value() for name in ("quantity", "on")}

    answer = makers_client.post("/shopping/receive/", typed | {"item": sugar.pk}, follow=True)

    lot = Lot.objects.get()
    assert answer.redirect_chain == [("/shopping/", 302)]
    assert (ledger.on_hand(lot), lot.received) == (2_000_000, dt.date(2026, 4, 6))
    assert lot.origin == "The corner shop"
    assert "Received 2 kg of White sugar" in text_of(answer)
    assert "White sugar 2 kg (2 packs)" not in text_of(answer)


def test_a_line_ticked_off_by_mistake_is_undone(makers_client, sugar, wanted):
    typed = {"item": sugar.pk, "quantity": "2 kg", "on": "2026-04-06"}
    makers_client.post("/shopping/receive/", typed)
    done = Activity.objects.filter(undo__gt="").first()

    makers_client.post(f"/household/activity/{done.pk}/undo/")

    assert "White sugar 2 kg (2 packs)" in text_of(makers_client.get("/shopping/"))


@pytest.mark.parametrize(
    ("box", "typed"), [("quantity", "a bag"), ("quantity", ""), ("on", "soon"), ("item", "")]
)
def test_a_line_that_cannot_be_read_is_shown_again_with_what_was_typed(
    makers_client, sugar, box, typed
):
    values = {"item": sugar.pk, "quantity": "1234 g", "on": "6 Apr 2026", box: typed}

    answer = makers_client.post("/shopping/receive/", values)

    assert answer.status_code == 422
    assert list(answer.context["form"].errors) == [box]
    assert "1234 g" in answer.content.decode() or box == "quantity"
    assert not Lot.objects.exists()


def test_a_guest_reads_the_list_but_cannot_tick_it_off(guests_client, wanted):
    page = guests_client.get("/shopping/").content.decode()

    assert "White sugar" in page
    assert "/shopping/receive/" not in page


def test_the_list_looks_as_far_ahead_as_asked(makers_client, wanted):
    page = text_of(makers_client.get("/shopping/", {"weeks": "1"}))

    assert "Lemons" in page
    assert "White sugar" not in page


def test_weeks_that_cannot_be_read_are_said_at_their_box(makers_client, wanted):
    answer = makers_client.get("/shopping/", {"weeks": "many"})

    assert answer.status_code == 422
    assert list(answer.context["filter"].errors) == ["weeks"]


def test_the_list_can_be_taken_away(makers_client, wanted):
    answer = makers_client.get("/shopping/", {"format": "csv"})

    head, first, *_ = answer.content.decode().splitlines()
    assert head == ('"Shop","Item","How much","Packs","Price","Order by","Overdue","For"')
    assert first == (
        '"The corner shop","Lemons","3 pieces","3","","2026-03-30","yes","Gorse: Mash"'
    )


def test_the_list_asks_as_many_questions_for_many_lines_as_for_few(makers_client, maker, wanted):
    def questions():
        with CaptureQueriesContext(connection) as asked:
            makers_client.get("/shopping/")
        return len(asked)

    few = questions()
    for number in range(40):
        item = Item.objects.create(name=f"Herb {number}", kind="foraged", base="mg")
        requirements.need(item=item, quantity=2000, day=MAY_4, label="tea", by=maker)

    assert questions() == few
