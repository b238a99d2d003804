"""Vessels over a brewing year, a bucket wanted twice, and six jars of which eight are wanted."""

import datetime as dt

import pytest

from planner import batches
from planner.vessel_count import (
    Crowd,
    Use,
    count_pictures,
    crowds,
    uses_of,
    vessel_count_picture,
    wanted,
)
from planner.vessel_picture import vessel_picture
from tests.planner.world import LITRE, SATURDAY, damson_batch

APRIL = dt.date(2026, 4, 1)
JAR_USES = (
    Use("Gorse", dt.date(2026, 4, 18), dt.date(2026, 8, 8), 1),
    Use("Rhubarb", dt.date(2026, 5, 16), dt.date(2026, 9, 12), 2),
    Use("Meadowsweet", dt.date(2026, 7, 4), dt.date(2026, 8, 15), 2),
    Use("Damson", dt.date(2026, 9, 19), dt.date(2027, 1, 23), 4),
    Use("Bramble", dt.date(2026, 9, 23), dt.date(2027, 2, 6), 2),
    Use("Crab apple", dt.date(2026, 10, 17), dt.date(2027, 1, 9), 2),
)


@pytest.fixture
def twice(maker, bucket, jar):
    """Damson in the bucket from 12 to 19 September, and bramble from the 16th."""
    damson = damson_batch(maker, name="Damson", vessels=[bucket, jar])
    batches.plan(
        recipe_version=damson.recipe_version, volume=LITRE, start=dt.date(2026, 9, 16), by=maker,
        name="Bramble", vessels=[bucket],
    )  # fmt: skip


def boxes(picture, look):
    return [(box.x, box.width) for box in picture.drawing.boxes if box.look == look]


def notes(picture):
    return [words.text for words in picture.drawing.words if words.look.startswith("note")]


def test_bucket_wanted_twice_is_hatched_and_said(twice):
    picture = vessel_picture(on=APRIL)

    assert picture.finding == (
        "One clash from 1 Apr 2026 to 31 Mar 2027: Large bucket 16 to 18 Sep (Damson and Bramble)."
    )
    # Three of 365 days, from the 168th on.
    assert boxes(picture, "clash") == [("46.03", "0.82")]
    assert [box.hatch for box in picture.drawing.boxes if box.look == "clash"] == ["hip"]
    assert notes(picture) == ["free until 19 Sep", "clash 16 to 18 Sep"]


def test_every_use_stands_in_the_table_with_its_clash(twice):
    picture = vessel_picture(on=APRIL)

    assert [fact.cells for fact in picture.facts] == [
        ("Jar 1", "Damson", "booked", "19 Sep 2026", "23 Jan 2027", "none"),
        ("Large bucket", "Damson", "booked", "12 Sep 2026", "19 Sep 2026", "16 to 18 Sep"),
        ("Large bucket", "Bramble", "booked", "16 Sep 2026", "23 Sep 2026", "16 to 18 Sep"),
    ]


@pytest.mark.parametrize(
    ("on", "look", "note"),
    [
        (dt.date(2026, 9, 18), "wash", "free until 19 Sep"),
        (dt.date(2026, 9, 19), "solid", "in use, free 23 Jan"),
        (dt.date(2027, 1, 23), "hollow", "free"),
    ],
)
def test_jar_is_booked_then_in_use_then_has_been(maker, jar, on, look, note):
    damson_batch(maker, vessels=[jar])

    picture = vessel_picture(on=on, start=APRIL)

    assert [box.look for box in picture.drawing.boxes] == [look]
    assert notes(picture) == [note]


def test_house_without_bookings_has_free_vessels(bucket, jar):
    picture = vessel_picture(on=APRIL)

    assert picture.finding == "No vessel is wanted twice at once from 1 Apr 2026 to 31 Mar 2027."
    assert notes(picture) == ["free", "free"]
    assert [fact.cells[:3] for fact in picture.facts] == [
        ("Jar 1", "none", "free"),
        ("Large bucket", "none", "free"),
    ]


def test_archived_vessel_and_other_years_are_out_of_sight(twice, jar):
    jar.archived = True
    jar.save()

    picture = vessel_picture(on=APRIL, start=dt.date(2028, 4, 1))

    assert picture.finding.startswith("No vessel is wanted twice")
    assert [fact.cells[0] for fact in picture.facts] == ["Large bucket"]


def test_all_vessels_are_read_with_three_queries(twice, django_assert_num_queries):
    with django_assert_num_queries(3):
        vessel_picture(on=APRIL)


def test_jars_in_use_change_on_twelve_days():
    assert [count for _, count in wanted(JAR_USES)] == [1, 3, 5, 4, 2, 0, 4, 6, 8, 6, 2, 0]


def test_jar_given_on_the_day_it_is_free_changes_nothing():
    uses = [Use("Gorse", APRIL, SATURDAY), Use("Damson", SATURDAY, dt.date(2027, 1, 23))]

    assert wanted(uses) == [(APRIL, 1), (dt.date(2027, 1, 23), 0)]


def test_two_jars_too_few_for_eighty_four_days():
    (crowd,) = crowds(wanted(JAR_USES), 6)

    assert crowd == Crowd(dt.date(2026, 10, 17), dt.date(2027, 1, 9), 8)
    assert crowd.days == 84


def test_times_that_follow_each_other_are_one_with_the_most_wanted():
    assert crowds(wanted(JAR_USES), 4) == [
        Crowd(dt.date(2026, 7, 4), dt.date(2026, 8, 8), 5),
        Crowd(dt.date(2026, 9, 23), dt.date(2027, 1, 23), 8),
    ]


def test_count_is_drawn_in_steps_under_the_line_of_what_is_owned():
    picture = vessel_count_picture(owned=6, uses=JAR_USES, words="jars", on=SATURDAY, start=APRIL)

    assert picture.finding == (
        "The house owns 6 jars: 8 wanted from 17 Oct 2026 until 9 Jan 2027 (84 days)."
    )
    assert picture.drawing.paths[0].d.startswith("M0 100H4.66V88.89H12.33V66.67")
    assert [box.look for box in picture.drawing.boxes] == ["beyond"]
    assert "6 owned" in [words.text for words in picture.drawing.words]


def test_every_change_of_the_count_stands_in_the_table():
    picture = vessel_count_picture(owned=6, uses=JAR_USES, words="jars", on=SATURDAY, start=APRIL)

    assert len(picture.facts) == 13
    assert picture.facts[9].cells == (
        "17 Oct 2026", "8", "6", "2", "Damson 4, Bramble 2, Crab apple 2",
    )  # fmt: skip


def test_enough_jars_are_said_to_be_enough():
    picture = vessel_count_picture(owned=8, uses=JAR_USES, words="jars", on=SATURDAY, start=APRIL)

    assert picture.finding == "At most 8 of 8 jars are wanted at once."


def test_nothing_wanted_is_drawn_as_nothing():
    picture = vessel_count_picture(owned=6, uses=(), words="jars", on=SATURDAY, start=APRIL)

    assert picture.finding == "At most 0 of 6 jars are wanted at once."
    assert [path.d for path in picture.drawing.paths] == ["M0 100H100"]


def test_uses_come_from_the_bookings_of_the_vessels(twice, bucket, django_assert_num_queries):
    with django_assert_num_queries(1):
        found = uses_of([bucket])

    assert found == [
        Use("Damson", dt.date(2026, 9, 12), dt.date(2026, 9, 19)),
        Use("Bramble", dt.date(2026, 9, 16), dt.date(2026, 9, 23)),
    ]


def test_each_kind_the_house_keeps_has_its_year(twice, django_assert_num_queries):
    with django_assert_num_queries(3):
        found = count_pictures(on=SATURDAY)

    assert [(words, picture.finding) for words, picture in found] == [
        ("open vessels", "The house owns 1 open vessels: 2 wanted from 16 Sep 2026 until 19 Sep 2026 (3 days)."),
        ("closed vessels", "At most 1 of 1 closed vessels are wanted at once."),
    ]  # fmt: skip


def test_a_kind_the_house_does_not_keep_is_left_out(bucket):
    assert [words for words, _ in count_pictures(on=SATURDAY)] == ["open vessels"]
