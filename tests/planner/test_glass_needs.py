"""The glass a batch asks for shrinks with what is expected to stay behind, and with what really did."""

import datetime as dt

import pytest

from inventory import activity
from inventory.models import Activity, Item, Requirement
from planner import batches, recipes, volumes
from planner.recipes import LineDraft
from tests.planner.world import DAMSON_STEPS, LITRE, SATURDAY, sugar_line

LATER = SATURDAY + dt.timedelta(days=40)


@pytest.fixture
def bottle(house):
    return Item.objects.create(name="Bottle 750 mL", kind="bottle", base="mpc")


def plan(maker, sugar, bottle, **design):
    recipe = recipes.add_recipe(name="Damson", product="still", by=maker)
    per_litre = LineDraft(item=bottle, step="bottle", basis="per_litre", amount=1334)
    version = recipes.add_version(
        recipe=recipe,
        steps=DAMSON_STEPS,
        lines=[sugar_line(sugar), per_litre],
        by=maker,
        design=design,
    )
    return batches.plan(recipe_version=version, volume=18 * LITRE, start=SATURDAY, by=maker)


def wanted(item):
    return Requirement.objects.get(item=item, state="open").quantity


def test_without_an_expected_loss_glass_is_wanted_for_all_of_it(maker, sugar, bottle):
    plan(maker, sugar, bottle)

    assert wanted(bottle) == 25_000


def test_six_per_cent_lees_want_fewer_bottles_and_as_much_sugar(maker, sugar, bottle):
    plan(maker, sugar, bottle, loss=60)

    # 16.92 L at 1.334 bottles: 22.6, so 23.
    assert (wanted(bottle), wanted(sugar)) == (23_000, 3_402_000)


def test_what_stayed_behind_in_truth_counts_and_comes_back_with_undo(
    maker, sugar, bottle, settings
):
    batch = plan(maker, sugar, bottle, loss=60)
    settings.PRETEND_TODAY = LATER

    volumes.begin(batch=batch, volume=15 * LITRE, on=SATURDAY, by=maker)
    assert wanted(bottle) == 21_000
    volumes.take(batch=batch, cause="lees", amount=3 * LITRE, on=LATER, by=maker)
    assert wanted(bottle) == 17_000

    activity.undo(activity=Activity.objects.filter(verb="volume").latest("pk"), by=maker)
    assert wanted(bottle) == 21_000


def test_more_than_was_planned_asks_for_no_more_than_the_plan(maker, sugar, bottle, settings):
    batch = plan(maker, sugar, bottle)
    settings.PRETEND_TODAY = LATER

    volumes.begin(batch=batch, volume=19 * LITRE, on=SATURDAY, by=maker)

    assert wanted(bottle) == 25_000
