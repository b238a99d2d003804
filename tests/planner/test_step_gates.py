"""No wine goes into glass while it works, whichever way the step is sent."""

import datetime as dt

import pytest
from django.utils import timezone

from inventory.refusals import Refusal
from planner import batches, readings, recipes
from planner.models import Batch
from tests.inventory.views.reading import text_of
from tests.planner.world import DAMSON_STEPS, LITRE, damson_version, step

START = dt.date(2026, 1, 10)
DAY = dt.date(2026, 4, 1)


def planned(version, maker):
    return batches.plan(recipe_version=version, volume=9 * LITRE, start=START, by=maker)


@pytest.fixture
def batch(maker):
    return planned(damson_version(maker), maker)


@pytest.fixture
def fizz(maker):
    recipe = recipes.add_recipe(name="Crab apple fizz", product="fizz", by=maker)
    return planned(
        recipes.add_version(recipe=recipe, steps=DAMSON_STEPS, lines=[], by=maker), maker
    )


def read(batch, maker, *gravities):
    for day, gravity in gravities:
        at = timezone.make_aware(dt.datetime.combine(START + dt.timedelta(day), dt.time(12)))
        readings.record(batch=batch, kind="gravity", value=gravity, at=at, by=maker)


def bottle(batch, maker):
    return batches.complete_step(step=step(batch, "bottle"), on=DAY, by=maker)


FINISHED = ((1, 1.080), (60, 0.995), (64, 0.995))


def test_wine_that_nobody_read_is_not_bottled(batch, maker):
    with pytest.raises(Refusal, match="Stop: It is moving: two equal readings"):
        bottle(batch, maker)

    assert step(batch, "bottle").is_open


def test_wine_that_is_still_twice_is_bottled(batch, maker):
    read(batch, maker, *FINISHED)

    assert bottle(batch, maker).state == "done"
    assert Batch.objects.get().state == "in_glass"


def test_a_stuck_wine_is_not_bottled(batch, maker):
    read(batch, maker, (1, 1.090), (40, 1.030), (50, 1.030))

    with pytest.raises(Refusal, match="stuck, and may start again in the bottle"):
        bottle(batch, maker)


def test_a_steadied_wine_is_bottled_still_and_never_with_fizz(batch, fizz, maker):
    for one in (batch, fizz):
        batches.complete_step(step=step(one, "stabilise"), on=DAY, by=maker)

    assert bottle(batch, maker).state == "done"
    with pytest.raises(Refusal, match="no yeast will make the fizz"):
        bottle(fizz, maker)


def test_fizz_wants_still_twice_too(fizz, maker):
    read(fizz, maker, *FINISHED[:2])
    with pytest.raises(Refusal, match="still twice|two equal readings"):
        bottle(fizz, maker)

    read(fizz, maker, FINISHED[2])
    assert bottle(fizz, maker).state == "done"


def test_a_direct_post_is_stopped_as_well(client, batch, maker, settings):
    client.force_login(maker, backend=settings.AUTHENTICATION_BACKENDS[-1])
    one = step(batch, "bottle")

    answer = client.post(
        f"/steps/{one.pk}/complete/", {"on": "1 Apr 2026", "without": "on", "remark": "no"}
    )

    assert answer.status_code == 422
    assert "two equal readings" in text_of(answer)
    assert step(batch, "bottle").is_open


def test_the_gate_stands_on_the_page_before_the_step_is_begun(client, batch, maker, settings):
    client.force_login(maker, backend=settings.AUTHENTICATION_BACKENDS[-1])
    page = text_of(client.get(f"/batches/{batch.pk}/"))
    assert "It is moving: two equal readings three or more days apart are wanted." in page

    read(batch, maker, *FINISHED)

    assert "nothing that is known speaks against it" in text_of(client.get(f"/batches/{batch.pk}/"))


def test_a_cordial_has_no_such_gate(maker):
    recipe = recipes.add_recipe(name="Cordial", product="cordial", by=maker)
    cordial = planned(
        recipes.add_version(recipe=recipe, steps=DAMSON_STEPS, lines=[], by=maker), maker
    )

    assert bottle(cordial, maker).state == "done"
