"""Jars chosen by hand, the year of bookings of the worked example, and what helps where two want one."""

import datetime as dt

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from inventory import activity, vessels
from inventory.models import Activity
from inventory.refusals import Refusal
from planner import batches, occupancies, recipes, vessel_choice
from planner.models import Occupancy
from planner.recipes import StepDraft
from planner.vessel_count import Use, crowds, wanted
from tests.conftest import LITRE

D = dt.date
# Name, jars, first day, day free again.
YEAR = (
    ("Gorse", 1, D(2026, 4, 18), D(2026, 8, 8)),
    ("Rhubarb", 2, D(2026, 5, 16), D(2026, 9, 12)),
    ("Meadowsweet", 2, D(2026, 7, 4), D(2026, 8, 15)),
    ("Damson", 4, D(2026, 9, 19), D(2027, 1, 23)),
    ("Bramble", 2, D(2026, 9, 23), D(2027, 2, 6)),
    ("Crab apple", 2, D(2026, 10, 17), D(2027, 1, 9)),
)


@pytest.fixture
def jars(house, maker):
    return [
        vessels.add_vessel(by=maker, name=f"Jar {n}", kind="closed", brimful=4_750_000)
        for n in range(1, 7)
    ]


def jarred(maker, name, count, begins, ends):
    """A batch that stands in jars from one day until another."""
    recipe = recipes.add_recipe(name=name, product="still", by=maker)
    steps = [
        StepDraft(key="rack", title="Rack", vessel_wanted="closed"),
        StepDraft(key="bottle", title="Bottle", offset_days=(ends - begins).days),
    ]
    version = recipes.add_version(recipe=recipe, steps=steps, lines=[], by=maker)
    return batches.plan(
        recipe_version=version, volume=round(count * 4.75 * LITRE), start=begins, by=maker
    )


def book(batch, jars, maker):
    first = batch.steps.order_by("place").first()
    return vessel_choice.choose(batch=batch, chosen={first.pk: jars}, by=maker)


@pytest.fixture
def year(jars, maker):
    """All six of the year; each takes the jars that are free, the last begins although none is."""
    found = {}
    for name, count, begins, ends in YEAR:
        batch = jarred(maker, name, count, begins, ends)
        free = occupancies.free(kind="closed", begins=begins, ends=ends)
        book(batch, (free or jars)[:count], maker)
        found[name] = batch
    return found


def test_peak_use_of_the_year_is_eight_of_six(year):
    uses = [Use(name, begins, ends, count) for name, count, begins, ends in YEAR]
    steps = wanted(uses)

    assert [count for _, count in steps] == [1, 3, 5, 4, 2, 0, 4, 6, 8, 6, 2, 0]
    assert [(one.begins, one.ends, one.wanted, one.days) for one in crowds(steps, 6)] == [
        (D(2026, 10, 17), D(2027, 1, 9), 8, 84)
    ]


def test_crab_apple_can_begin_when_the_damson_is_in_glass(year):
    [choice] = vessel_choice.choices(year["Crab apple"])

    assert choice.earliest == D(2027, 1, 23)
    assert all(offer.others for offer in choice.offers)


def test_a_clash_says_what_would_help(year):
    [first, *_] = occupancies.conflicts(batch=year["Crab apple"])

    ways = vessel_choice.ways_out(first)

    assert ways == [
        f"empty {first.vessel} of {first.first.batch} by Sat 17 Oct 2026",
        "begin Crab apple 2026 98 days later, on Sat 23 Jan 2027",
    ]


def test_another_free_jar_is_named_first(jars, maker):
    first = jarred(maker, "Gorse", 1, D(2026, 4, 18), D(2026, 8, 8))
    second = jarred(maker, "Rhubarb", 1, D(2026, 5, 16), D(2026, 9, 12))
    for batch in (first, second):
        book(batch, jars[:1], maker)

    [clash] = occupancies.conflicts()

    assert vessel_choice.ways_out(clash)[0] == "put Rhubarb 2026 into Jar 2 instead"


def test_a_choice_is_taken_back(jars, maker):
    batch = jarred(maker, "Gorse", 2, D(2026, 4, 18), D(2026, 8, 8))
    book(batch, jars[:2], maker)
    book(batch, jars[2:4], maker)

    activity.undo(
        activity=Activity.objects.filter(undo="vessel_choice.choose").latest("pk"), by=maker
    )

    assert {use.vessel for use in batch.occupancies.all()} == set(jars[:2])


def test_a_bucket_is_not_for_the_jars_of_a_batch(jars, maker, bucket):
    batch = jarred(maker, "Gorse", 1, D(2026, 4, 18), D(2026, 8, 8))

    with pytest.raises(Refusal, match="Large bucket is not for that"):
        book(batch, [bucket], maker)


def test_too_few_jars_altogether_have_no_earliest_day(jars, maker):
    batch = jarred(maker, "Cider", 8, D(2026, 10, 1), D(2027, 1, 1))

    [choice] = vessel_choice.choices(batch)

    assert choice.earliest is None
    assert choice.short == 38 * LITRE


SPANS = st.lists(
    st.tuples(st.integers(0, 60), st.integers(1, 40), st.integers(1, 5)), min_size=1, max_size=12
)


@settings(max_examples=1000, deadline=None)
@given(SPANS)
def test_peak_use_equals_the_greatest_overlap_by_brute_force(spans):
    start = D(2026, 1, 1)
    uses = [
        Use(str(n), start + dt.timedelta(first), start + dt.timedelta(first + length), count)
        for n, (first, length, count) in enumerate(spans)
    ]

    found = max(count for _, count in wanted(uses))

    days = [start + dt.timedelta(n) for n in range(101)]
    assert found == max(sum(u.count for u in uses if u.begins <= day < u.ends) for day in days)


def test_the_page_books_what_is_ticked(client, jars, maker):
    client.force_login(maker)
    batch = jarred(maker, "Gorse", 2, D(2026, 4, 18), D(2026, 8, 8))
    first = batch.steps.order_by("place").first()
    page = f"/batches/{batch.pk}/vessels/"
    assert "9.5 L short; enough is free from Sat 18 Apr 2026" in client.get(page).content.decode()

    client.post(page, {f"span_{first.pk}": [jars[0].pk, jars[1].pk]})

    assert Occupancy.objects.count() == 2
    assert "9.5 L of 9.5 L" in client.get(page).content.decode()
