import datetime as dt

import pytest

from inventory.models import Activity, Vessel
from inventory.refusals import Refusal
from planner import batches, occupancies
from tests.planner.world import LITRE, SATURDAY, damson_batch, damson_version, step


@pytest.fixture
def jars(house):
    return [
        Vessel.objects.create(name=f"Jar {number}", kind="closed", brimful=4_750_000)
        for number in range(1, 5)
    ]


def uses(batch):
    return {
        (str(use.vessel), use.begins, use.ends)
        for use in batch.occupancies.select_related("vessel")
    }


def plan_again(batch, start, maker, vessels):
    return batches.plan(
        recipe_version=batch.recipe_version, volume=LITRE, start=start, by=maker, vessels=vessels
    )


def test_bucket_is_used_until_the_pressing_and_jars_until_the_bottling(maker, bucket, jars):
    batch = damson_batch(maker, vessels=[bucket, *jars])

    pressing, bottling = dt.date(2026, 9, 19), dt.date(2027, 1, 23)
    assert uses(batch) == {
        ("Large bucket", SATURDAY, pressing),
        *((f"Jar {number}", pressing, bottling) for number in range(1, 5)),
    }


def test_auto_takes_the_smallest_vessel_that_holds_it_all(maker, bucket, jars):
    Vessel.objects.create(name="Cask", kind="closed", brimful=60_000_000)
    Vessel.objects.create(name="Demijohn", kind="closed", brimful=25_000_000)

    batch = damson_batch(maker, vessels="auto")

    assert {name for name, _, _ in uses(batch)} == {"Large bucket", "Demijohn"}


def test_auto_takes_several_where_none_holds_it_all(maker, bucket, jars):
    batch = damson_batch(maker, vessels="auto")

    assert {name for name, _, _ in uses(batch)} == {
        "Large bucket",
        "Jar 1",
        "Jar 2",
        "Jar 3",
        "Jar 4",
    }


def test_too_little_room_is_said_and_auto_books_nothing_there(maker, bucket, jar):
    batch = damson_batch(maker, vessels="auto")

    assert {name for name, _, _ in uses(batch)} == {"Large bucket"}
    assert Activity.objects.first().summary == (
        "Set down Damson 2026; too little room: closed under an airlock from Sat 19 Sep 2026"
    )


def test_chosen_vessels_are_booked_even_where_they_hold_too_little(maker, bucket, jar):
    batch = damson_batch(maker, vessels=[bucket, jar])

    assert {name for name, _, _ in uses(batch)} == {"Large bucket", "Jar 1"}
    assert "too little room" in Activity.objects.first().summary


def test_auto_leaves_vessels_alone_that_another_batch_stands_in(maker, bucket, jars):
    first = damson_batch(maker, vessels="auto")

    second = plan_again(first, SATURDAY, maker, "auto")
    third = plan_again(first, dt.date(2026, 9, 19), maker, "auto")

    assert uses(second) == set()
    assert {name for name, _, _ in uses(third)} == {"Large bucket"}
    assert occupancies.conflicts() == []


def test_nothing_is_booked_unless_asked_for(maker, bucket, jars):
    assert uses(damson_batch(maker)) == set()


def test_vessel_no_longer_in_use_is_refused(maker, bucket):
    bucket.archived = True
    bucket.save()

    with pytest.raises(Refusal) as refusal:
        damson_batch(maker, vessels=[bucket])

    assert refusal.value.field == "vessels"


def test_bucket_wanted_twice_is_listed_with_the_days(maker, bucket):
    damson = damson_batch(maker, vessels=[bucket])
    bramble = plan_again(damson, dt.date(2026, 9, 16), maker, [bucket])

    (conflict,) = occupancies.conflicts()

    assert (conflict.vessel, conflict.first.batch, conflict.second.batch) == (
        bucket,
        damson,
        bramble,
    )
    assert (conflict.begins, conflict.ends) == (dt.date(2026, 9, 16), dt.date(2026, 9, 19))


def test_last_day_is_free_again(maker, bucket):
    damson = damson_batch(maker, vessels=[bucket])

    plan_again(damson, dt.date(2026, 9, 19), maker, [bucket])

    assert occupancies.conflicts(vessel=bucket) == []


def test_conflicts_may_be_asked_of_one_vessel_or_one_batch(maker, bucket, jar):
    first = damson_batch(maker, vessels=[bucket])
    second = plan_again(first, SATURDAY, maker, [bucket])
    third = plan_again(first, dt.date(2028, 1, 1), maker, [bucket])

    assert len(occupancies.conflicts(vessel=bucket)) == 1
    assert occupancies.conflicts(vessel=jar) == []
    assert len(occupancies.conflicts(batch=second)) == 1
    assert occupancies.conflicts(batch=third) == []


def test_three_batches_in_one_bucket_are_three_pairs(maker, bucket, django_assert_num_queries):
    first = damson_batch(maker, vessels=[bucket])
    plan_again(first, SATURDAY, maker, [bucket])
    plan_again(first, SATURDAY, maker, [bucket])

    with django_assert_num_queries(1):
        found = occupancies.conflicts()

    assert len(found) == 3


def test_vessels_follow_a_moved_step(maker, bucket, jar):
    batch = damson_batch(maker, vessels=[bucket, jar])

    batches.move_step(step=step(batch, "press"), day=dt.date(2026, 9, 21), by=maker)

    assert uses(batch) == {
        ("Large bucket", SATURDAY, dt.date(2026, 9, 21)),
        ("Jar 1", dt.date(2026, 9, 21), dt.date(2027, 1, 25)),
    }


def test_vessel_is_free_from_the_day_a_step_was_really_done(maker, bucket, jar, settings):
    batch = damson_batch(maker, vessels=[bucket, jar])
    settings.PRETEND_TODAY = dt.date(2026, 9, 30)

    batches.complete_step(step=step(batch, "press"), on=dt.date(2026, 9, 23), by=maker)

    assert ("Large bucket", SATURDAY, dt.date(2026, 9, 23)) in uses(batch)


def test_pressing_on_the_day_of_the_mash_still_uses_the_bucket_for_a_day(maker, bucket):
    batch = damson_batch(maker, vessels=[bucket])

    batches.move_step(step=step(batch, "mash"), day=dt.date(2026, 9, 12), by=maker)
    batches.move_step(step=step(batch, "enzyme and yeast"), day=SATURDAY, by=maker)
    batches.move_step(step=step(batch, "press"), day=SATURDAY, by=maker)

    assert uses(batch) == {("Large bucket", SATURDAY, dt.date(2026, 9, 13))}


def test_wine_that_is_never_bottled_stays_in_its_jar_until_the_last_step(maker, jar):
    version = damson_version(maker)
    version.steps.filter(title__in=["bottle", "ready"]).update(title="wait")

    batch = batches.plan(
        recipe_version=version, volume=LITRE, start=SATURDAY, by=maker, vessels=[jar]
    )

    assert uses(batch) == {("Jar 1", dt.date(2026, 9, 19), dt.date(2027, 7, 22))}
