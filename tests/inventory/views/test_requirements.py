import datetime as dt

import pytest

from inventory import requirements
from inventory.models import Requirement
from tests.inventory.views.reading import text_of

JULY_4 = dt.date(2026, 7, 4)


def need(client, thing, **typed):
    values = {"item": thing.pk, "quantity": "3 kg", "day": "4 Jul 2026", "label": "jam"}
    return client.post("/requirements/add/", values | typed)


def test_a_need_noted_by_hand_stands_on_the_page_of_its_item(makers_client, sugar):
    answer = need(makers_client, sugar)

    noted = Requirement.objects.get()
    page = text_of(makers_client.get(answer["Location"]))
    assert (noted.quantity, noted.day, noted.origin) == (3_000_000, JULY_4, "")
    assert "Sat 4 Jul 2026 jam 3 kg" in page
    assert "jam 3 kg on Sat 4 Jul 2026" in page


@pytest.mark.parametrize(
    ("box", "typed"),
    [("quantity", "0 g"), ("quantity", "3"), ("day", "29 Feb 2026"), ("label", " "), ("item", "x")],
)
def test_a_need_that_cannot_be_read_is_refused_at_its_box(makers_client, sugar, box, typed):
    answer = need(makers_client, sugar, **{box: typed})

    assert answer.status_code == 422
    assert list(answer.context["form"].errors) == [box]


def test_a_need_noted_by_hand_can_be_withdrawn(makers_client, maker, sugar):
    noted = requirements.need(item=sugar, quantity=1000, day=JULY_4, label="jam", by=maker)

    answer = makers_client.post(f"/requirements/{noted.pk}/withdraw/", follow=True)

    noted.refresh_from_db()
    assert noted.state == "withdrawn"
    assert "Not needed any more: 1 g of White sugar for jam" in text_of(answer)


def test_the_need_of_a_batch_goes_only_with_the_batch(makers_client, maker, sugar):
    owned = requirements.need(
        item=sugar, quantity=1000, day=JULY_4, label="Gorse: Mash", by=maker, origin="batch:1"
    )

    answer = makers_client.post(f"/requirements/{owned.pk}/withdraw/")

    owned.refresh_from_db()
    assert answer.status_code == 404
    assert owned.state == "open"


def test_what_is_withdrawn_twice_is_said_in_words(makers_client, maker, sugar):
    noted = requirements.need(item=sugar, quantity=1000, day=JULY_4, label="jam", by=maker)
    requirements.withdraw(requirements=[noted], by=maker)

    answer = makers_client.post(f"/requirements/{noted.pk}/withdraw/", follow=True)

    assert "cannot be withdrawn" in text_of(answer)
