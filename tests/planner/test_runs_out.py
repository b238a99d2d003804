"""Three scarce things in one list, each leading to the batch it hurts."""

import datetime as dt

import pytest

from inventory import items, ledger, requirements, vessels
from planner import batches, recipes, runs_out
from planner.recipes import LineDraft
from tests.conftest import KILO
from tests.inventory.views.reading import text_of
from tests.planner.world import (
    DAMSON_STEPS,
    LITRE,
    SATURDAY,
    damson_batch,
    step,
    sugar_line,
)

TODAY = dt.date(2026, 4, 6)


@pytest.fixture
def house_of_three(maker, sugar):
    """Damson wine twice: sugar for one, no corks, and one bucket for both."""
    cork = items.add_item(by=maker, name="Cork", kind="closure", base="mpc")
    ledger.receive(item=sugar, quantity=3 * KILO, on=TODAY, by=maker)
    bucket = vessels.add_vessel(by=maker, name="Bucket", kind="open", brimful=30 * LITRE)
    lines = [sugar_line(sugar), LineDraft(item=cork, step="bottle", basis="fixed", amount=5000)]
    first = damson_batch(maker, lines, vessels=[bucket])
    batches.plan(
        recipe_version=first.recipe_version,
        volume=18 * LITRE,
        start=SATURDAY + dt.timedelta(2),
        by=maker,
        vessels=[bucket],
    )
    return first


def found():
    return runs_out.of_the_house(today=TODAY, preference="metric")


def test_what_runs_out_first_stands_first_whatever_it_is(house_of_three):
    rows = [(one.name, one.what, one.day) for one in found()]

    assert rows == [
        ("White sugar", "to put in", SATURDAY),
        ("Bucket", "vessel", SATURDAY + dt.timedelta(2)),
        ("Cork", "glass", step(house_of_three, "bottle").day),
    ]


def test_each_leads_to_the_batch_it_hurts(house_of_three):
    sugar, bucket, cork = found()

    assert [hurt.words for hurt in bucket.hurts] == ["Damson 2026", "Damson 2026 (2)"]
    assert cork.short.startswith("10 ")
    assert len(cork.hurts) == 2
    assert all(hurt.address.startswith("/batches/") for one in found() for hurt in one.hurts)


def test_nothing_that_lies_beyond_the_year_is_named(house_of_three):
    early = TODAY - dt.timedelta(days=400)

    assert runs_out.of_the_house(today=early, preference="metric") == []


def test_the_page_draws_it_and_an_empty_house_says_so(client, maker, settings, house_of_three):
    settings.PRETEND_TODAY = TODAY
    client.force_login(maker, backend=settings.AUTHENTICATION_BACKENDS[-1])

    page = text_of(client.get("/runs-out/"))

    assert "First: White sugar, 12 Sep. 3 in all." in page
    settings.PRETEND_TODAY = TODAY - dt.timedelta(days=400)
    assert "Nothing runs out in the coming year" in text_of(client.get("/runs-out/"))


def test_the_queries_do_not_grow(house_of_three, sugar, maker, django_assert_max_num_queries):
    with django_assert_max_num_queries(10) as few:
        found()
    for n in range(4):
        item = items.add_item(by=maker, name=f"Thing {n}", kind="ingredient", base="mg")
        plan_with(LineDraft(item=item, step="mash", basis="fixed", amount=1000), maker, n)

    with django_assert_max_num_queries(len(few)):
        assert len(found()) == 7


def plan_with(line, maker, n):
    recipe = recipes.add_recipe(name=f"Wine {n}", product="still", by=maker)
    version = recipes.add_version(recipe=recipe, steps=DAMSON_STEPS, lines=[line], by=maker)
    batches.plan(recipe_version=version, volume=LITRE, start=SATURDAY, by=maker)


def test_many_things_are_paged(client, maker, settings):
    settings.PRETEND_TODAY = TODAY
    client.force_login(maker, backend=settings.AUTHENTICATION_BACKENDS[-1])
    for n in range(60):
        item = items.add_item(by=maker, name=f"Thing {n:02}", kind="ingredient", base="mg")
        requirements.need(item=item, quantity=1000, day=SATURDAY, label="jam", by=maker)

    page = text_of(client.get("/runs-out/?page=2"))

    assert "60 in all. 30 more stand in the list." in page
    assert "Thing 59" in page
    assert "Thing 45 to put in" not in page
