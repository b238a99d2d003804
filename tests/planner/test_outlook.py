import datetime as dt

import pytest

from inventory import ledger, receipts
from inventory.models import Item
from planner import book, outlook
from tests.planner.world import SATURDAY, damson_batch, step, sugar_line, yeast_line

TODAY = dt.date(2026, 4, 6)


@pytest.fixture
def batch(maker, sugar, yeast):
    return damson_batch(maker, [sugar_line(sugar), yeast_line(yeast)])


def words(batch, title, today=TODAY):
    return [use.word for use in outlook.uses_of(step(batch, title), today=today)]


def test_what_is_short_says_by_when_it_must_be_ordered(batch):
    assert words(batch, "mash") == ["order by Sat 5 Sep 2026"]


def test_what_should_have_been_ordered_is_overdue(batch):
    assert words(batch, "mash", today=dt.date(2026, 9, 8)) == [
        "overdue: should have been ordered by Sat 5 Sep 2026"
    ]


def test_what_is_on_the_shelf_is_spoken_for(batch, yeast, maker):
    ledger.receive(item=yeast, quantity=1000, on=TODAY, by=maker)

    assert words(batch, "enzyme and yeast") == ["spoken for"]


def test_what_arrives_in_time_is_on_its_way(batch, yeast, maker):
    receipts.expect(item=yeast, quantity=2000, due=SATURDAY, by=maker)

    assert words(batch, "enzyme and yeast") == ["on its way"]


def test_what_arrives_too_late_is_to_be_asked_for_sooner(batch, yeast, maker):
    receipts.expect(item=yeast, quantity=2000, due=dt.date(2026, 10, 1), by=maker)

    assert words(batch, "enzyme and yeast") == ["ask for it sooner, or order by Sun 6 Sep 2026"]


def test_what_grows_is_picked_and_not_ordered(maker, house):
    damsons = Item.objects.create(name="Damsons", kind="foraged", base="mg", pack=1000)
    batch = damson_batch(maker, [sugar_line(damsons)])

    found = outlook.of_batch(batch, today=TODAY, book=book.of_batch(batch))

    assert [(lack.item, lack.word) for lack in found.lacks] == [
        (damsons, "pick by Sat 12 Sep 2026")
    ]


def test_a_step_of_yesterday_is_overdue(batch):
    found = outlook.of_batch(
        batch, today=SATURDAY + dt.timedelta(days=1), book=book.of_batch(batch)
    )

    assert [line.step.title for line in found.steps if line.overdue] == ["mash"]


def test_the_later_open_steps_follow_unless_they_are_kept(batch):
    batch.steps.filter(title="bottle").update(pinned=True)

    titles = [follower.title for follower in outlook.followers(step(batch, "check"))]

    assert titles == ["check again", "stabilise", "ready"]
