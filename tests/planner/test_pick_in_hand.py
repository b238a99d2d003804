"""A weighed tub and what it can become."""

import datetime as dt

import pytest

from inventory import glass, items, ledger, requirements, vessels
from inventory.models import BottleType, ClosureType
from planner import batches, pick_in_hand, recipes
from planner.models import Batch
from planner.recipes import LineDraft, StepDraft
from tests.conftest import FIRST_MONDAY, KILO
from tests.inventory.views.reading import text_of

STEPS = [
    StepDraft(key="1", title="Mash", vessel_wanted="open"),
    StepDraft(key="2", title="Strain", offset_days=7, vessel_wanted="closed"),
    StepDraft(key="3", title="Fit to drink", offset_days=200),
]


@pytest.fixture
def bramble(maker):
    return items.add_item(by=maker, name="Bramble", kind="foraged", base="mg")


@pytest.fixture
def tub(bramble, maker):
    return ledger.receive(item=bramble, quantity=2_300_000, on=FIRST_MONDAY, by=maker)


@pytest.fixture
def house_with_vessels(maker):
    for name, kind, litres in (
        ("Bucket", "open", 10),
        ("Jar 1", "closed", 5),
        ("Jar 2", "closed", 5),
    ):
        vessels.add_vessel(by=maker, name=name, kind=kind, brimful=litres * 1_000_000)


def a_recipe(maker, name, bramble, sugar, *, fruit=400_000, sweet=180_000):
    lines = [
        LineDraft(item=bramble, step="1", basis="per_litre", amount=fruit, is_fruit=True),
        LineDraft(item=sugar, step="1", basis="per_litre", amount=sweet),
    ]
    recipe = recipes.add_recipe(name=name, product="still", by=maker)
    return recipes.add_version(recipe=recipe, steps=STEPS, lines=lines, by=maker)


def ways(lot):
    return pick_in_hand.ways(lot, amount=2_300_000, today=FIRST_MONDAY)


def test_a_recipe_is_scaled_to_use_all_of_it(tub, bramble, sugar, maker, house_with_vessels):
    a_recipe(maker, "Bramble wine", bramble, sugar)

    [way] = ways(tub)

    assert way.volume == 5_750_000
    assert way.uses == 2_300_000
    assert way.ready == FIRST_MONDAY + dt.timedelta(days=200)
    assert [str(cover.item) for cover in way.lacking] == ["White sugar"]
    assert way.lacking[0].short == 1_035_000
    assert [[vessel.name for vessel in one.vessels] for one in way.standings] == [
        ["Bucket"],
        ["Jar 1", "Jar 2"],
    ]


def test_what_is_spoken_for_is_not_free(tub, bramble, sugar, maker, house_with_vessels):
    a_recipe(maker, "Bramble wine", bramble, sugar)
    ledger.receive(item=sugar, quantity=2 * KILO, on=FIRST_MONDAY, by=maker)
    requirements.need(item=sugar, quantity=KILO, day=FIRST_MONDAY, label="jam", by=maker)

    [way] = ways(tub)

    assert way.lacking[0].free == KILO
    assert way.lacking[0].short == 35_000


def test_the_recipe_that_lacks_least_stands_first(tub, bramble, sugar, maker, house_with_vessels):
    a_recipe(maker, "A dry one", bramble, sugar)
    ledger.receive(item=sugar, quantity=KILO, on=FIRST_MONDAY, by=maker)
    a_recipe(maker, "Less sugar", bramble, sugar, sweet=100_000)

    assert [way.version.recipe.name for way in ways(tub)] == ["Less sugar", "A dry one"]


def test_only_the_newest_version_is_offered_and_none_that_is_put_away(tub, bramble, sugar, maker):
    version = a_recipe(maker, "Bramble wine", bramble, sugar)
    steps, lines = recipes.drafts_of(version)
    newer = recipes.add_version(recipe=version.recipe, steps=steps, lines=lines, by=maker)
    put_away = a_recipe(maker, "Forgotten", bramble, sugar)
    recipes.archive(recipe=put_away.recipe, by=maker)

    assert [way.version for way in ways(tub)] == [newer]


def test_a_busy_vessel_is_not_offered(tub, bramble, sugar, maker, house_with_vessels):
    version = a_recipe(maker, "Bramble wine", bramble, sugar)
    batches.plan(
        recipe_version=version, volume=5_000_000, start=FIRST_MONDAY, by=maker, vessels="auto"
    )

    [way] = ways(tub)

    assert not way.has_vessels


def test_it_asks_as_many_questions_for_many_recipes(
    tub, bramble, sugar, maker, django_assert_max_num_queries
):
    a_recipe(maker, "One", bramble, sugar)
    with django_assert_max_num_queries(12) as few:
        ways(tub)
    for number in range(6):
        a_recipe(maker, f"Another {number}", bramble, sugar)

    with django_assert_max_num_queries(len(few)):
        ways(tub)


def test_from_the_tub_to_a_batch_in_two_clicks(client, tub, bramble, sugar, maker, settings):
    client.force_login(maker, backend=settings.AUTHENTICATION_BACKENDS[-1])
    version = a_recipe(maker, "Bramble wine", bramble, sugar)
    page = client.get(f"/lots/{tub.pk}/becomes/").content.decode()
    address = f"/batches/add/?version={version.pk}&volume=5750000&today=1"
    assert address.replace("&", "&amp;") in page

    form = client.get(address).context["form"]
    typed = {name: form[name].value() for name in ("recipe_version", "volume", "start")}
    client.post("/batches/add/", {**typed, "start": "6 Apr 2026", "volume": "5.75 L"})

    assert typed["volume"] == "5.75 L"
    assert Batch.objects.get().volume == 5_750_000


def test_a_lot_that_nothing_takes_says_so(client, tub, maker, settings):
    client.force_login(maker, backend=settings.AUTHENTICATION_BACKENDS[-1])

    assert "No recipe of the house takes Bramble" in text_of(client.get(f"/lots/{tub.pk}/becomes/"))


def test_a_jar_is_wanted_until_bottling_and_once_for_steps_of_one_kind(
    tub, bramble, sugar, maker, house_with_vessels
):
    steps = [
        *STEPS[:2],
        StepDraft(key="rack", title="Rack", offset_days=60, vessel_wanted="closed"),
        StepDraft(key="bottle", title="Bottle", offset_days=120),
        StepDraft(key="fit", title="Fit to drink", offset_days=300),
    ]
    lines = [LineDraft(item=bramble, step="1", basis="per_litre", amount=400_000)]
    recipe = recipes.add_recipe(name="Bramble wine", product="still", by=maker)
    recipes.add_version(recipe=recipe, steps=steps, lines=lines, by=maker)

    [way] = ways(tub)

    after = [(one.begins - FIRST_MONDAY).days for one in way.standings]
    until = [(one.ends - FIRST_MONDAY).days for one in way.standings]
    assert list(zip(after, until, strict=True)) == [(0, 7), (7, 120)]


def test_what_it_books_is_what_it_offered(tub, bramble, sugar, maker, house_with_vessels):
    version = a_recipe(maker, "Bramble wine", bramble, sugar)
    [way] = ways(tub)

    batch = batches.plan(
        recipe_version=version, volume=way.volume, start=FIRST_MONDAY, by=maker, vessels="auto"
    )

    booked = batch.occupancies.order_by("begins", "vessel__name")
    assert [(use.begins, use.ends, use.vessel) for use in booked] == [
        (one.begins, one.ends, vessel) for one in way.standings for vessel in one.vessels
    ]


def test_what_is_promised_of_the_lot_is_not_offered(client, tub, bramble, sugar, maker, settings):
    a_recipe(maker, "Bramble wine", bramble, sugar)
    requirements.need(item=bramble, quantity=1_300_000, day=FIRST_MONDAY, label="jam", by=maker)
    client.force_login(maker, backend=settings.AUTHENTICATION_BACKENDS[-1])

    page = text_of(client.get(f"/lots/{tub.pk}/becomes/"))

    assert "1 kg of Bramble, lot" in page
    assert "1.3 kg more of it is spoken for" in page
    assert "Bramble wine : 2.5 L" in page


def test_the_glass_at_the_day_of_bottling_is_counted(tub, bramble, sugar, maker):
    a_recipe(maker, "Bramble wine", bramble, sugar)
    [bare] = ways(tub)
    bottle = items.add_item(by=maker, name="Bottle", kind="bottle", base="mpc")
    cork = items.add_item(by=maker, name="Cork", kind="closure", base="mpc")
    glass.describe(item=bottle, model=BottleType, nominal=750_000, finish="cork", by=maker)
    glass.describe(item=cork, model=ClosureType, fits=["cork"], by=maker)
    for item, count in ((bottle, 9), (cork, 7)):
        ledger.receive(item=item, quantity=count * 1000, on=FIRST_MONDAY, by=maker)

    [way] = ways(tub)

    assert (bare.filling.room, bare.filling.short) == (0, 5_750_000)
    # Seven sets of 750 mL.
    assert (way.filling.room, way.filling.short) == (5_250_000, 500_000)
