"""The glass of the house through its pages."""

import pytest

from inventory import glass, items, ledger, requirements
from inventory.models import BottleType, CageType, ClosureType, Loan
from tests.conftest import FIRST_MONDAY, PIECE
from tests.inventory.views.reading import text_of


def an_item(maker, name, kind, count):
    item = items.add_item(by=maker, name=name, kind=kind, base="mpc", piece_word=kind)
    ledger.receive(item=item, quantity=count * PIECE, on=FIRST_MONDAY, by=maker)
    return item


@pytest.fixture
def bottle(maker):
    return an_item(maker, "Fizz bottle", "bottle", 6)


@pytest.fixture
def parts(maker, bottle):
    """Fourteen bottles, of which five are filled, one is cracked and two are dirty."""
    stopper, cage = an_item(maker, "Stopper", "closure", 10), an_item(maker, "Cage", "cage", 7)
    rating = {"rated_mbar": 6000, "rating_source": "the owner's word"}
    glass.describe(
        item=bottle, model=BottleType, by=maker, nominal=750_000, finish="fizz", **rating
    )
    glass.describe(item=stopper, model=ClosureType, by=maker, fits=["fizz"], needs_cage=True)
    glass.describe(item=cage, model=CageType, by=maker, uses=3)
    move = {"item": bottle, "on": FIRST_MONDAY, "by": maker}
    glass.move(count=5, source="", target="filled", **move)
    glass.move(count=3, source="", target="dirty", **move)
    glass.move(count=1, source="dirty", target="cracked", **move)
    return stopper, cage


def test_the_page_counts_bottles_by_state_and_the_sets_they_make(makers_client, parts):
    page = text_of(makers_client.get("/glass/"))

    assert "Fizz bottle sparkling mouth, for a stopper and cage; rated 6 bar" in page
    assert "750 mL 6 2 5 1 6 7 after washing, wanting 1 cage" in page


def test_a_house_without_glass_says_what_to_do(makers_client, house):
    assert "No glass yet" in text_of(makers_client.get("/glass/"))


def test_a_bottle_nobody_described_has_no_sets(makers_client, bottle):
    page = text_of(makers_client.get("/glass/"))

    assert "not described yet not known 6 not known" in page


def test_a_planned_bottling_takes_its_sets_from_its_month_on(makers_client, maker, parts):
    _, cage = parts
    requirements.need(
        item=cage, quantity=5 * PIECE, day=FIRST_MONDAY.replace(month=6), label="Gorse", by=maker
    )

    page = text_of(makers_client.get("/glass/"))

    assert "April 2026 6 wanting 1 cage June 2026 2 wanting 6 cages" in page


def test_bottles_drunk_come_back_month_by_month(makers_client, parts):
    page = text_of(makers_client.get("/glass/", {"drunk": "3"}))

    assert "April 2026 7 wanting 1 closure, 3 cages May 2026 7 wanting 3 closures, 3 cages" in page


@pytest.mark.parametrize("typed", ["-1", "many", "1e9"])
def test_a_rate_that_cannot_be_is_refused_in_words(makers_client, parts, typed):
    answer = makers_client.get("/glass/", {"drunk": typed})

    assert answer.status_code == 422
    assert "Bottles drunk a month" in text_of(answer)


def test_washing_two_through_the_page_is_said_and_can_be_undone(makers_client, bottle, parts):
    typed = {"way": "wash", "count": "2", "on": "6 Apr 2026"}

    page = text_of(makers_client.post(f"/glass/{bottle.pk}/move/", typed, follow=True))

    assert glass.counts([bottle.pk])[bottle.pk]["clean"] == 8
    assert "Washed: 2 Fizz bottle. Undo" in page


def test_more_than_there_are_is_refused_at_its_box(makers_client, bottle, parts):
    typed = {"way": "wash", "count": "3", "on": "6 Apr 2026", "reason": "sun"}

    answer = makers_client.post(f"/glass/{bottle.pk}/move/", typed)

    assert answer.status_code == 422
    assert answer.context["form"].errors == {"count": ["3 of Fizz bottle wanted, 2 are dirty."]}
    assert 'value="sun"' in answer.content.decode()


def test_bottles_are_lent_and_come_back(makers_client, bottle, parts):
    lent = {"count": "4", "to": "Nan at Ford End", "on": "6 Apr 2026", "due": "1 May 2026"}
    makers_client.post(f"/glass/{bottle.pk}/lend/", lent)
    loan = Loan.objects.get()

    back = {"count": "3", "state": "dirty", "on": "20 Apr 2026"}
    page = text_of(makers_client.post(f"/loans/{loan.pk}/return/", back, follow=True))

    assert "Nan at Ford End 1 Fizz bottle" in page
    assert glass.counts([bottle.pk])[bottle.pk]["dirty"] == 5


def test_a_bottle_is_described_and_described_anew(makers_client, bottle):
    typed = {"nominal": "0.75 L", "brimful": "775", "finish": "fizz", "rated_mbar": "6,5"}
    typed |= {"brimful": "775 mL", "rating_source": "stamped on it"}

    makers_client.post(f"/glass/{bottle.pk}/describe/", typed)
    first = BottleType.objects.get()
    changed = makers_client.post(
        f"/glass/{bottle.pk}/describe/", typed | {"rated_mbar": "", "version": "1"}
    )

    assert (first.nominal, first.brimful, first.rated_mbar) == (750_000, 775_000, 6500)
    assert changed.status_code == 302
    assert BottleType.objects.get().rated_mbar is None


@pytest.mark.parametrize(
    ("box", "typed"),
    [
        ("nominal", "0 mL"),
        ("brimful", "700 mL"),
        ("finish", "barrel"),
        ("rated_mbar", "-3"),
        ("rated_mbar", "600"),
        ("weight_g", "NaN"),
    ],
)
def test_what_no_bottle_is_is_refused(makers_client, bottle, box, typed):
    good = {"nominal": "750 mL", "finish": "fizz", "rating_source": "x"}

    answer = makers_client.post(f"/glass/{bottle.pk}/describe/", good | {box: typed})

    assert answer.status_code == 422
    assert not BottleType.objects.exists()


def test_a_closure_and_a_cage_are_described(makers_client, maker):
    cap, cage = an_item(maker, "Crown cap", "closure", 40), an_item(maker, "Cage", "cage", 7)

    makers_client.post(f"/glass/{cap.pk}/describe/", {"fits": ["crown_26"], "uses": "1"})
    makers_client.post(f"/glass/{cage.pk}/describe/", {"uses": "3"})

    assert (ClosureType.objects.get().fits, CageType.objects.get().uses) == (["crown_26"], 3)


def test_sugar_is_not_described_as_glass(makers_client, sugar):
    assert makers_client.get(f"/glass/{sugar.pk}/describe/").status_code == 404


def test_the_page_asks_as_many_questions_for_many_kinds_as_for_one(
    makers_client, maker, parts, django_assert_max_num_queries
):
    with django_assert_max_num_queries(12) as first:
        makers_client.get("/glass/")
    for number in range(12):
        another = an_item(maker, f"Bottle {number}", "bottle", 3)
        values = {"nominal": 500_000, "finish": "crown_26"}
        glass.describe(item=another, model=BottleType, by=maker, **values)

    with django_assert_max_num_queries(len(first)):
        makers_client.get("/glass/")
