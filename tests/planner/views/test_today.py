import datetime as dt

import pytest

from inventory import ledger
from planner import batches, readings
from planner.models import RecipeVersion
from tests.planner.world import damson_batch, damson_version, sugar_line, yeast_line

SATURDAY = dt.date(2026, 9, 12)


def on(day, settings, client):
    settings.PRETEND_TODAY = day
    return client.get("/").content.decode()


def test_an_empty_house_is_told_three_next_steps(as_maker):
    page = as_maker.get("/").content.decode()

    assert "This house is empty" in page
    assert all(address in page for address in ("/items/add/", "/recipes/add/", "/batches/add/"))


def test_what_is_due_stands_with_a_button_that_does_it(as_maker, batch, settings):
    page = on(SATURDAY, settings, as_maker)

    assert "To do today" in page
    assert f"/steps/{batch.steps.first().pk}/complete/" in page


def test_what_was_not_done_is_overdue(as_maker, batch, settings):
    page = on(SATURDAY + dt.timedelta(days=3), settings, as_maker)

    assert "Overdue" in page


def test_what_must_be_ordered_within_two_weeks_is_listed(as_maker, batch, settings):
    assert "To order" in on(dt.date(2026, 8, 30), settings, as_maker)


def test_a_lot_near_its_date_is_to_be_used_soon(as_maker, sugar, maker, settings):
    day = dt.date(2026, 4, 6)
    ledger.receive(item=sugar, quantity=1000, on=day, by=maker, use_by=day + dt.timedelta(days=5))

    page = on(day, settings, as_maker)

    assert "Use soon" in page
    assert "in 5 days" in page


def test_a_vessel_wanted_twice_is_a_warning(as_maker, maker, bucket, jar, settings):
    version = damson_version(maker)
    for _ in range(2):
        batches.plan(
            recipe_version=version,
            volume=4_500_000,
            start=SATURDAY,
            by=maker,
            vessels=[bucket, jar],
        )

    page = on(dt.date(2026, 9, 1), settings, as_maker)

    assert "Vessels wanted twice" in page
    assert "Large bucket" in page


def test_a_guest_sees_the_day_but_no_buttons(client, people, batch, settings):
    client.force_login(people["guest"], backend=settings.AUTHENTICATION_BACKENDS[-1])

    assert "/complete/" not in on(SATURDAY, settings, client)


@pytest.mark.parametrize("more", [0, 6])
def test_today_takes_the_same_queries_with_more_batches(
    more, as_maker, maker, sugar, yeast, settings, django_assert_num_queries
):
    damson_batch(maker, [sugar_line(sugar), yeast_line(yeast)])
    for _ in range(more):
        batches.plan(
            recipe_version=RecipeVersion.objects.get(), volume=9_000_000, start=SATURDAY, by=maker
        )
    settings.PRETEND_TODAY = SATURDAY

    with django_assert_num_queries(23):
        as_maker.get("/")


def test_a_batch_at_work_asks_for_its_gravity(as_maker, batch, settings, maker):
    batch.state = "working"
    batch.save()
    settings.PRETEND_TODAY = SATURDAY + dt.timedelta(days=3)
    asked = "nobody has read its gravity yet"
    assert asked in as_maker.get("/").content.decode()

    at = dt.datetime(2026, 9, 14, 12, tzinfo=dt.UTC)
    readings.record(batch=batch, kind="gravity", value=1.05, at=at, by=maker)

    assert "To be read" not in as_maker.get("/").content.decode()
    settings.PRETEND_TODAY = SATURDAY + dt.timedelta(days=6)
    assert "last read Mon 14 Sep 2026" in as_maker.get("/").content.decode()
