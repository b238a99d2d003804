"""Cost, shares, wishes, plan against truth by the worked example, and the lesson in the next version."""

import datetime as dt

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory import ledger
from inventory.models import Item
from planner import additions, batches, book, from_batch, look_back, sharing, tastings, volumes
from planner.look_back import Against
from planner.sharing import shares
from tests.conftest import KILO
from tests.planner.world import LITRE, SATURDAY, damson_batch, step, sugar_line

LATER = SATURDAY + dt.timedelta(days=40)


def test_shares_of_the_example():
    found = shares(34, {"A": 42, "B": 27, "C": 15 * 2})

    assert [round(share.exact, 2) for share in found] == [14.42, 9.27, 10.30]
    assert [share.bottles for share in found] == [15, 9, 10]


PARTS = st.dictionaries(
    st.text(min_size=1, max_size=5), st.floats(0.001, 1e6), min_size=1, max_size=12
)


@given(st.integers(0, 5000), PARTS)
def test_every_bottle_is_given_out_and_nobody_is_off_by_a_whole_one(bottles, parts):
    found = shares(bottles, parts)

    assert sum(share.bottles for share in found) == bottles
    assert all(abs(share.bottles - share.exact) < 1 + 1e-6 for share in found)


@pytest.mark.parametrize("parts", [{}, {"A": 0}, {"A": -1}, {"A": float("nan")}])
def test_parts_that_are_none_are_refused(parts):
    with pytest.raises(ValueError, match="part|share"):
        sharing.shares(10, parts)


@pytest.fixture
def batch(settings, maker, sugar, house):
    settings.PRETEND_TODAY = LATER
    found = damson_batch(maker, [sugar_line(sugar)])
    ledger.receive(item=sugar, quantity=5 * KILO, on=SATURDAY, by=maker, cost=575)
    batches.complete_step(step=step(found, "mash"), on=SATURDAY, by=maker)
    return found


def test_sugar_of_the_example_costs_what_it_should(batch, maker, sugar):
    lot = sugar.lots.get()
    # 3.402 kg by the recipe and 0.951 kg more: 4.353 kg at 1.15 a kilogram.
    additions.add(batch=batch, lot=lot, amount=951_000, on=SATURDAY, by=maker, purpose="sugar")

    found = look_back.of_batch(batch, book.of_batch(batch))

    assert found.cost.total == pytest.approx(501, abs=1)


def test_the_cost_of_the_example_by_the_bottle():
    items = {
        "sugar": 4.353 * 115,
        "yeast": 95,
        "enzyme": 30,
        "nutrient": 35,
        "sulphite": 2,
        "sorbate": 10,
    }
    total = sum(items.values()) + 23 * 18
    volume = 22 * 0.750 + 0.375

    assert total == pytest.approx(1087, abs=0.5)
    assert total / 23 == pytest.approx(47.2, abs=0.1)
    assert total * 0.750 / volume == pytest.approx(48.3, abs=0.1)


def test_less_than_planned_is_said_in_percent():
    assert look_back._numbers("Bottles", 24, 23, 0) == Against(
        "Bottles", "24", "23", pytest.approx(-4.2, abs=0.05)
    )


def test_three_of_four_wishes_came_true(batch, maker):
    wishes = {"a good nose": True, "clear": True, "medium": True, "lasting": False}
    tastings.taste(batch=batch, on=LATER, liking=4, by=maker, wishes=wishes, lesson="rack later")

    found = look_back.of_batch(batch, book.of_batch(batch))

    assert (found.wishes_met, len(found.wishes)) == (3, 4)
    assert found.lessons == ["rack later"]


def test_what_was_done_becomes_the_next_version_with_the_lesson(batch, maker, sugar):
    lot = sugar.lots.get()
    additions.add(batch=batch, lot=lot, amount=198_000, on=SATURDAY, by=maker, purpose="sugar")
    day = SATURDAY + dt.timedelta(days=9)
    batches.complete_step(step=step(batch, "press"), on=day, by=maker)
    tastings.taste(batch=batch, on=LATER, liking=3, by=maker, lesson="press a day sooner")

    version = from_batch.version_of(batch=batch, book=book.of_batch(batch), by=maker)

    assert (version.number, version.parent) == (2, batch.recipe_version)
    assert version.reason == "as Damson 2026 was made; press a day sooner"
    assert version.steps.get(title="press").offset_days == 9
    # 3.402 kg and 198 g in 18 L.
    assert version.lines.get().amount == 200_000


def test_the_year_counts_what_was_begun_filled_and_opened(batch, maker):
    volumes.begin(batch=batch, volume=18 * LITRE, on=SATURDAY, by=maker)

    found = look_back.of_year(2026)

    assert ([one.name for one in found.batches], found.bottles, found.opened) == (
        ["Damson 2026"],
        0,
        0,
    )


def test_the_pages_stand(client, batch, maker):
    client.force_login(maker)
    other = Item.objects.create(name="Honey", kind="ingredient", base="mg")
    assert other.pk
    shared = client.get(f"/batches/{batch.pk}/back/", {"bottles": "34", "who": "A 42, B 27, C 30"})
    assert "15 bottles" in shared.content.decode()
    assert (
        client.get("/batches/compare/", {"first": batch.pk, "second": batch.pk}).status_code == 200
    )
    assert client.get("/cellar/year/", {"year": "2026"}).status_code == 200
    assert client.get("/cellar/year/", {"year": "20x6"}).status_code == 422
    assert (
        client.get(f"/batches/{batch.pk}/back/", {"bottles": "4", "who": "Nan"}).status_code == 422
    )
    assert client.post(f"/batches/{batch.pk}/version/")["Location"].endswith("/versions/2/")
