"""The day sheet says what to do, what to fetch from where, and what to beware of."""

import datetime as dt

import pytest

from inventory import ledger
from inventory.models import Item, StoragePlace
from planner import steps
from planner.models import Plant
from planner.recipes import LineDraft
from planner.sheet import sheet_of
from planner.told import Told
from tests.planner.world import SATURDAY, damson_batch, step, sugar_line, yeast_line

SUNDAY = dt.date(2026, 9, 13)
APRIL_6 = dt.date(2026, 4, 6)


@pytest.fixture
def damsons(house):
    item = Item.objects.create(name="Damsons", kind="foraged", base="mg")
    Plant.objects.create(
        slug="damson", common_name="Damson", item=item, hazard_level=2,
        hazard_text="Stones hold a poison", look_alikes="Sloe, which does no more harm",
    )  # fmt: skip
    return item


@pytest.fixture
def batch(maker, sugar, yeast, damsons, bucket, jar):
    fruit = LineDraft(item=damsons, step="mash", basis="per_litre", amount=300_000, is_fruit=True)
    return damson_batch(maker, [fruit, sugar_line(sugar), yeast_line(yeast)], vessels=[bucket, jar])


def titles(lines):
    return [line.step.title for line in lines]


def test_a_sheet_holds_the_day_and_the_week_after(batch):
    sheet = sheet_of(day=SATURDAY, today=APRIL_6)

    assert titles(sheet.of_the_day) == ["mash"]
    assert [(day, titles(lines)) for day, lines in sheet.week] == [
        (SUNDAY, ["enzyme and yeast"]),
        (dt.date(2026, 9, 19), ["press"]),
    ]


def test_what_was_left_over_stands_on_the_sheet_of_today_only(batch):
    today = sheet_of(day=SUNDAY, today=SUNDAY)
    some_day = sheet_of(day=SUNDAY, today=APRIL_6)

    assert titles(today.left_over) == ["mash"]
    assert titles(today.of_the_day) == ["enzyme and yeast"]
    assert some_day.left_over == []


def test_what_is_done_is_off_the_sheet(batch, maker, settings):
    settings.PRETEND_TODAY = SATURDAY
    steps.complete_step(
        step=step(batch, "mash"),
        on=SATURDAY,
        by=maker,
        without=True,
        remark="none",
        told=Told(reason="the bucket has held it before"),
    )

    assert sheet_of(day=SATURDAY, today=SATURDAY).of_the_day == []


def test_what_is_fetched_names_lot_and_place_first_expired_first(batch, maker, sugar):
    pantry = StoragePlace.objects.create(name="Pantry")
    loft = StoragePlace.objects.create(name="Loft")
    for quantity, place, use_by in (
        (2_000_000, loft, dt.date(2027, 6, 1)),
        (1_000_000, pantry, dt.date(2026, 12, 1)),
    ):
        ledger.receive(
            item=sugar, quantity=quantity, on=APRIL_6, by=maker, place=place, use_by=use_by
        )

    fetch = sheet_of(day=SATURDAY, today=SATURDAY).of_the_day[0].fetches[1]

    assert (fetch.item, fetch.quantity) == (sugar, 3_402_000)
    assert [(take.lot.place.name, take.quantity) for take in fetch.takes] == [
        ("Pantry", 1_000_000),
        ("Loft", 2_000_000),
    ]
    assert fetch.lacking == 402_000


def test_a_step_names_the_vessels_it_fills_and_frees(batch, bucket, jar):
    sheet = sheet_of(day=SATURDAY, today=SATURDAY)
    (mash,), press = sheet.of_the_day, sheet.week[1][1][0]

    assert (mash.into, mash.out_of) == ((bucket,), ())
    assert (press.into, press.out_of) == ((jar,), (bucket,))


def test_a_step_that_takes_a_plant_carries_its_caution(batch):
    sheet = sheet_of(day=SATURDAY, today=SATURDAY)

    assert [plant.common_name for plant in sheet.of_the_day[0].plants] == ["Damson"]
    assert sheet.week[0][1][0].plants == ()


def test_a_sheet_takes_four_queries_and_an_empty_one_a_single_one(batch, django_assert_num_queries):
    with django_assert_num_queries(4):
        sheet_of(day=SATURDAY, today=SATURDAY)
    with django_assert_num_queries(1):
        assert sheet_of(day=dt.date(2030, 1, 1), today=APRIL_6).empty
