import datetime as dt
import os
import subprocess
import sys

import icalendar
import pytest
import vobject

from planner import batches, feed, harvest
from planner.models import Step
from planner.plants import load_catalogue
from tests.planner.world import damson_batch, step

TODAY = dt.date(2026, 4, 6)
STAMP = dt.datetime(2026, 4, 6, 9, 30, tzinfo=dt.UTC)
TEA = "Rack “Beck Bottom” — größte Schlehe, très froide; ça va, \\ 梅酒 " * 6


@pytest.fixture
def batch(maker):
    return damson_batch(maker)


def text_of(**content):
    return feed.calendar(name="Skelder Fold", uid="test", **content)


def steps_text(batch, **more):
    return text_of(steps=batch.steps.all(), **more)


def parsed(text):
    calendar = icalendar.Calendar.from_ical(text)
    calendar.validate()
    assert vobject.readOne(text.decode()).validate(raiseException=True)
    return calendar


def events(text):
    return parsed(text).walk("VEVENT")


def order(**more):
    values = {
        "key": "7-2026-05-04",
        "day": dt.date(2026, 4, 27),
        "summary": "Order 2 kg of White sugar",
        "description": "The corner shop",
        "path": "/items/7/",
    }
    return feed.Order(**{**values, **more})


def test_event_says_everything_a_calendar_asks_for(batch):
    mash = events(steps_text(batch))[0]

    row = step(batch, "mash")
    assert mash["uid"] == f"{row.uid}@maythorn"
    assert mash["sequence"] == 0
    assert mash["dtstamp"].dt == mash["last-modified"].dt == row.changed_at.replace(microsecond=0)
    assert mash["status"] == "CONFIRMED"
    assert mash["transp"] == "TRANSPARENT"
    assert mash["summary"] == "Damson 2026: mash"
    assert mash["description"] == "Keep the stones whole."
    assert mash["url"] == f"http://127.0.0.1:8000/batches/{batch.pk}/"
    assert not mash.errors


def test_calendar_carries_its_own_fixed_name_and_identifier(batch):
    calendar = parsed(steps_text(batch))

    assert calendar["uid"] == "test"
    assert calendar["name"] == calendar["x-wr-calname"] == "Skelder Fold"
    assert calendar["version"] == "2.0"
    assert calendar["refresh-interval"].params["VALUE"] == "DURATION"
    assert calendar["refresh-interval"].dt == dt.timedelta(hours=6)
    assert "color" not in calendar


def test_two_fetches_are_byte_identical_even_when_written_anew(batch):
    first = steps_text(batch)
    feed._text.cache_clear()
    feed._frame.cache_clear()

    assert steps_text(batch) == first


def test_hash_seed_does_not_change_a_byte():
    code = (
        "import django; django.setup(); from planner import feed; import datetime as dt, sys;"
        "o = feed.Order('7', dt.date(2026, 4, 27), 'Order', 'Shop', '/items/7/');"
        "sys.stdout.buffer.write(feed.calendar(name='House', orders=[o], alarm_hours=6))"
    )

    written = {
        subprocess.run(
            [sys.executable, "-c", code],
            env={
                **os.environ,
                "PYTHONHASHSEED": seed,
                "DJANGO_SETTINGS_MODULE": "tests.settings",
            },
            capture_output=True,
            check=True,
        ).stdout
        for seed in ("1", "2")
    }

    assert len(written) == 1
    assert b"TRIGGER:-PT6H" in written.pop()


def test_lines_end_in_crlf_and_hold_at_most_75_octets(batch):
    batch.steps.update(notes=TEA)

    lines = steps_text(batch).split(b"\r\n")

    assert max(map(len, lines)) <= 75
    assert b"\n" not in b"".join(lines)
    assert lines[-2:] == [b"END:VCALENDAR", b""]


def test_other_alphabets_marks_and_new_lines_come_through(batch):
    batch.steps.filter(title="mash").update(title="Maische; süß, 梅", notes="one\r\ntwo, three")

    mash = events(steps_text(batch))[0]

    assert mash["summary"] == "Damson 2026: Maische; süß, 梅"
    assert mash["description"] == "one\ntwo, three"


def test_text_cannot_add_a_line_of_its_own(batch):
    batch.steps.filter(title="mash").update(notes="x\r\nEND:VEVENT\r\nBEGIN:VEVENT")

    assert len(events(steps_text(batch))) == 10


def test_alarms_are_set_only_where_asked_for(batch):
    silent = parsed(steps_text(batch)).walk("VALARM")
    loud = parsed(steps_text(batch, alarm_hours=6)).walk("VALARM")

    assert silent == []
    assert len(loud) == 10
    assert loud[0]["trigger"].dt == dt.timedelta(hours=-6)
    assert loud[0]["action"] == "DISPLAY"
    assert loud[0]["description"] == "Damson 2026: mash"


def test_cancelled_events_ring_no_alarm(batch, maker):
    batches.drop(batch=batch, by=maker)

    assert parsed(steps_text(batch, alarm_hours=6)).walk("VALARM") == []


def test_cancelled_events_stay_for_sixty_days(batch, maker):
    batches.drop(batch=batch, by=maker)
    Step.objects.update(changed_at=dt.datetime(2026, 9, 1, tzinfo=dt.UTC))

    on_day_60 = feed.shown(Step.objects.all(), dt.date(2026, 10, 31)).count()
    on_day_61 = feed.shown(Step.objects.all(), dt.date(2026, 11, 1)).count()

    assert (on_day_60, on_day_61) == (10, 0)


def test_skipped_step_is_sent_as_cancelled(batch, maker):
    batches.skip_step(step=step(batch, "rack"), reason="Clear already", by=maker)

    statuses = [str(event["status"]) for event in events(steps_text(batch))]
    assert statuses.count("CANCELLED") == 1


def test_steps_of_more_than_a_year_ago_are_left_out(batch):
    shown = feed.shown(Step.objects.all(), dt.date(2027, 9, 15))

    assert [str(one.title) for one in shown.order_by("day")][0] == "press"


def test_all_steps_are_read_with_one_query(batch, django_assert_num_queries):
    with django_assert_num_queries(1):
        steps_text(batch)


def test_calendar_without_events_is_still_valid(house):
    calendar = parsed(text_of(steps=Step.objects.all()))

    assert calendar.walk("VEVENT") == []
    assert [part.name for part in calendar.subcomponents] == ["VTIMEZONE"]


def test_windows_are_events_from_first_to_last_day(house):
    load_catalogue()
    found = harvest.windows(house=house, on=TODAY)

    text = text_of(windows=found, stamp=STAMP)

    damson = next(e for e in events(text) if e["uid"] == "window-damson-2026@maythorn")
    assert damson["dtstart"].dt == dt.date(2026, 8, 30)
    assert damson["dtend"].dt == dt.date(2026, 10, 15)
    assert damson["summary"] == "Damson: fruit"
    assert "it opens from 19 Aug to 10 Sep" in " ".join(damson["description"].split())
    assert damson["url"] == "http://127.0.0.1:8000/plants/damson/"
    assert len(events(text)) == 88


def test_order_by_days_are_events(house):
    (event,) = events(text_of(orders=[order()], stamp=STAMP))

    assert event["uid"] == "order-7-2026-05-04@maythorn"
    assert event["dtstart"].dt == dt.date(2026, 4, 27)
    assert event["dtend"].dt == dt.date(2026, 4, 28)
    assert event["dtstamp"].dt == STAMP
    assert event["url"] == "http://127.0.0.1:8000/items/7/"


def test_changed_event_is_written_anew_and_others_are_kept(batch):
    steps_text(batch)
    written = feed._text.cache_info().misses

    batch.steps.filter(title="rack").update(title="Rack with care", sequence=1)
    text = steps_text(batch)

    assert feed._text.cache_info().misses == written + 1
    assert b"Rack with care" in text


def test_mark_changes_with_every_activity_day_and_key(batch, maker):
    first = feed.etag(today=TODAY, key=1)

    assert feed.etag(today=TODAY, key=1) == first
    assert feed.etag(today=TODAY + dt.timedelta(days=1), key=1) != first
    assert feed.etag(today=TODAY, key=2) != first
    batches.pin(step=step(batch, "rack"), by=maker)
    assert feed.etag(today=TODAY, key=1) != first
