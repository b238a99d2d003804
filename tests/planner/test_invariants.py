import datetime as dt

import pytest

from inventory import activity, audit
from inventory.models import Activity, Requirement
from planner import batches, feeds
from planner.models import Batch, FeedToken, Occupancy, RecipeLine, Step, StepTemplate
from tests.planner.world import SATURDAY, damson_batch, step, sugar_line, yeast_line


@pytest.fixture
def batch(maker, sugar, yeast, bucket, jar):
    return damson_batch(maker, [sugar_line(sugar), yeast_line(yeast)], vessels=[bucket, jar])


def broken():
    return {found.rule for found in audit.findings() if found.grave}


def test_batch_keeps_every_rule_through_all_that_is_done_to_it(batch, maker, settings):
    settings.PRETEND_TODAY = dt.date(2026, 9, 30)
    batches.complete_step(
        step=step(batch, "mash"), on=SATURDAY, by=maker, without=True, remark="none left"
    )
    batches.move_step(step=step(batch, "press"), day=dt.date(2026, 9, 22), by=maker)
    batches.complete_step(step=step(batch, "press"), on=dt.date(2026, 9, 24), by=maker)
    after_work = broken()
    batches.drop(batch=batch, by=maker)
    after_drop = broken()

    activity.undo(activity=Activity.objects.first(), by=maker)

    assert (after_work, after_drop, broken()) == (set(), set(), set())


@pytest.mark.parametrize(
    ("rule", "damage"),
    [
        (
            "a dropped batch has nothing left to do",
            lambda: Batch.objects.update(state="dropped", dropped=SATURDAY),
        ),
        (
            "a done step says when, and no other does",
            lambda: Step.objects.update(done_on=SATURDAY),
        ),
        (
            "what a step needs is wanted on its day",
            lambda: Requirement.objects.update(day=dt.date(2027, 1, 1)),
        ),
        (
            "what a batch needs belongs to one of its steps",
            lambda: Requirement.objects.update(origin="batch:999"),
        ),
        (
            "a vessel is used from step to step of its batch",
            lambda: Occupancy.objects.update(ends=dt.date(2030, 1, 1)),
        ),
        (
            "a recipe counts from its own steps and earlier ones",
            lambda: StepTemplate.objects.filter(place__lt=5).update(
                after=StepTemplate.objects.get(place=9)
            ),
        ),
    ],
)
def test_damage_is_found(batch, rule, damage):
    damage()

    assert rule in broken()


def test_batch_without_steps_is_found(batch):
    Batch.objects.create(
        recipe_version=batch.recipe_version, name="Empty", volume=1, start=SATURDAY
    )

    assert broken() == {"a batch has steps, and its version says which"}


def test_line_at_a_step_of_another_version_is_found(batch, maker, sugar):
    version = batch.recipe_version
    other = type(version).objects.create(recipe=version.recipe, number=2)

    RecipeLine.objects.update(version=other)

    assert "a recipe counts from its own steps and earlier ones" in broken()


def test_gap_between_versions_is_found(batch):
    type(batch.recipe_version).objects.update(number=7)

    assert "versions of a recipe are numbered without gaps" in broken()


def test_secret_in_place_of_a_digest_is_found(batch, maker):
    feeds.make_token(person=maker, label="phone", content="steps", alarm_hours=None, by=maker)

    FeedToken.objects.update(digest="a secret")

    assert "a calendar address keeps a digest and no secret" in broken()
