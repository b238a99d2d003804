"""Which day is it? Five zones, twelve nights, and a clock that is put back."""

import datetime as dt
from zoneinfo import ZoneInfo

import pytest
from django.utils import timezone

from inventory import activity, clock, household
from inventory.models import Activity

ZONES = ("UTC", "Europe/Berlin", "America/New_York", "Asia/Kathmandu", "Pacific/Kiritimati")
# Nights of summer time in Europe and America 2025 to 2027, a leap day and its eve, the year's end.
NIGHTS = (
    "2025-03-09",
    "2025-03-30",
    "2025-10-26",
    "2025-11-02",
    "2026-03-29",
    "2026-10-25",
    "2027-02-28",
    "2028-02-28",
    "2028-02-29",
    "2025-12-31",
    "2026-06-30",
    "2027-01-01",
)


@pytest.fixture
def own_day(house, settings):
    """The day of the real clock; a day pretended elsewhere would hide mistakes."""
    settings.PRETEND_TODAY = None
    yield house
    timezone.deactivate()


def set_clock(monkeypatch, moment):
    monkeypatch.setattr(timezone, "now", lambda: moment.astimezone(dt.UTC))


@pytest.mark.parametrize("zone", ZONES)
@pytest.mark.parametrize("night", NIGHTS)
def test_the_day_begins_and_ends_at_midnight_of_the_house(own_day, monkeypatch, zone, night):
    type(own_day).objects.update(time_zone=zone)
    day = dt.date.fromisoformat(night)
    midnight = dt.datetime.combine(day, dt.time(), tzinfo=ZoneInfo(zone)).astimezone(dt.UTC)
    next_midnight = dt.datetime.combine(
        day + dt.timedelta(days=1), dt.time(), tzinfo=ZoneInfo(zone)
    ).astimezone(dt.UTC)
    household.activate_clock()

    set_clock(monkeypatch, midnight - dt.timedelta(seconds=1))
    before = clock.today()
    set_clock(monkeypatch, midnight)
    first = clock.today()
    set_clock(monkeypatch, next_midnight - dt.timedelta(seconds=1))
    last = clock.today()

    assert (before, first, last) == (day - dt.timedelta(days=1), day, day)


def test_late_in_the_evening_it_is_already_tomorrow_further_east(own_day, monkeypatch):
    type(own_day).objects.update(time_zone="Europe/Berlin")
    household.activate_clock()

    set_clock(monkeypatch, dt.datetime(2026, 6, 30, 22, 30, tzinfo=dt.UTC))

    assert clock.today() == dt.date(2026, 7, 1)


def test_a_page_is_shown_on_the_clock_of_the_house(own_day, client, maker, monkeypatch):
    set_clock(monkeypatch, dt.datetime(2026, 6, 30, 22, 30, tzinfo=dt.UTC))
    activity.record(by=maker, verb="test", subject=own_day, summary="Racked the damson")
    type(own_day).objects.update(time_zone="Pacific/Kiritimati")
    client.force_login(maker)

    page = client.get("/household/activity/?q=Racked").content.decode()

    assert "Wed 1 Jul 2026, 12:30" in page


def test_a_clock_put_back_three_days_keeps_the_order_of_what_was_done(own_day, monkeypatch):
    noon = dt.datetime(2026, 6, 30, 12, tzinfo=dt.UTC)
    set_clock(monkeypatch, noon)
    activity.record(by=None, verb="test", subject=own_day, summary="First")
    set_clock(monkeypatch, noon - dt.timedelta(days=3))
    activity.record(by=None, verb="test", subject=own_day, summary="Second")

    done = Activity.objects.all()[:2]

    assert [one.summary for one in done] == ["Second", "First"]
    assert done[0].at < done[1].at


def test_the_demo_may_pretend_a_day(house, settings):
    settings.PRETEND_TODAY = dt.date(2026, 4, 6)

    assert clock.today() == dt.date(2026, 4, 6)
