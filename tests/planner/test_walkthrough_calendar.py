import datetime as dt

import icalendar
import pytest

from inventory import activity
from inventory.models import Activity
from planner import batches, feed
from tests.planner.world import damson_batch, days, sequences, step

AS_PLANNED = [
    dt.date(2026, 9, 12),
    dt.date(2026, 9, 13),
    dt.date(2026, 9, 19),
    dt.date(2026, 10, 10),
    dt.date(2026, 12, 12),
    dt.date(2027, 1, 9),
    dt.date(2027, 1, 12),
    dt.date(2027, 1, 12),
    dt.date(2027, 1, 23),
    dt.date(2027, 7, 22),
]
TWO_DAYS_LATER = [
    dt.date(2026, 9, 12),
    dt.date(2026, 9, 13),
    dt.date(2026, 9, 21),
    dt.date(2026, 10, 12),
    dt.date(2026, 12, 14),
    dt.date(2027, 1, 11),
    dt.date(2027, 1, 14),
    dt.date(2027, 1, 14),
    dt.date(2027, 1, 25),
    dt.date(2027, 7, 24),
]


@pytest.fixture
def batch(maker):
    return damson_batch(maker)


def fetched(batch):
    text = feed.calendar(name="Damson", steps=batch.steps.all())
    return icalendar.Calendar.from_ical(text).walk("VEVENT")


def by_uid(batch):
    return {str(event["uid"]): event for event in fetched(batch)}


def test_ten_all_day_events_end_on_the_day_after(batch):
    events = fetched(batch)

    assert [event["dtstart"].dt for event in events] == AS_PLANNED
    assert [event["dtend"].dt for event in events] == [
        day + dt.timedelta(days=1) for day in AS_PLANNED
    ]
    assert {event["dtstart"].params["VALUE"] for event in events} == {"DATE"}
    assert events[2]["summary"] == "Damson 2026: press"


def test_press_on_21_september_moves_eight_events_under_their_old_uids(batch, maker):
    before = by_uid(batch)

    batches.move_step(step=step(batch, "press"), day=dt.date(2026, 9, 21), by=maker)

    after = by_uid(batch)
    assert sorted(event["dtstart"].dt for event in after.values()) == TWO_DAYS_LATER
    assert after.keys() == before.keys()
    assert sequences(batch) == [0, 0, 1, 1, 1, 1, 1, 1, 1, 1]
    assert sorted(event["sequence"] for event in after.values()) == [0, 0, *[1] * 8]


def test_only_the_moved_events_carry_a_new_stamp(batch, maker):
    long_ago = dt.datetime(2026, 4, 1, 12, 0, tzinfo=dt.UTC)
    batch.steps.update(changed_at=long_ago)

    batches.move_step(step=step(batch, "press"), day=dt.date(2026, 9, 21), by=maker)

    stamps = [event["dtstamp"].dt for event in fetched(batch)]
    assert [stamp == long_ago for stamp in stamps] == [True] * 2 + [False] * 8


def test_undoing_the_move_restores_the_days_with_a_higher_sequence(batch, maker):
    batches.move_step(step=step(batch, "press"), day=dt.date(2026, 9, 21), by=maker)

    activity.undo(activity=Activity.objects.first(), by=maker)

    assert days(batch) == AS_PLANNED
    assert sequences(batch) == [0, 0, 2, 2, 2, 2, 2, 2, 2, 2]


def test_weekends_only_puts_the_rackings_on_saturdays(batch, maker):
    batches.move_step(step=step(batch, "press"), day=dt.date(2026, 9, 21), by=maker)

    batches.set_weekend(step=step(batch, "rack"), weekend="weekend", by=maker)
    batches.set_weekend(step=step(batch, "rack again"), weekend="weekend", by=maker)

    expected = [*TWO_DAYS_LATER]
    expected[3], expected[4] = dt.date(2026, 10, 17), dt.date(2026, 12, 19)
    assert days(batch) == expected
    assert sequences(batch) == [0, 0, 1, 2, 2, 1, 1, 1, 1, 1]


def test_a_dropped_batch_sends_its_events_as_cancelled(batch, maker):
    batches.drop(batch=batch, by=maker)

    events = fetched(batch)
    assert len(events) == 10
    assert {str(event["status"]) for event in events} == {"CANCELLED"}
    assert {event["sequence"] for event in events} == {1}
