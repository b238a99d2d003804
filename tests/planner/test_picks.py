"""Weigh, sort, split: the worked example, and what is refused."""

import datetime as dt

import pytest
from django.utils import timezone

from inventory import activity, audit, items, ledger, places
from inventory.models import Activity, Lot
from inventory.refusals import Refusal
from planner import feeds, observations, patches, picks, sightings
from planner.models import Pick, Plant, Weighing
from planner.phenology import date_of

GRAM = 1000
APRIL_6 = dt.date(2026, 4, 6)
TUBS = [(1386 * GRAM, 74 * GRAM), (2410 * GRAM, 385 * GRAM)]


@pytest.fixture
def bramble(house):
    return Plant.objects.create(
        slug="bramble", common_name="Bramble", room_days="1", fridge_days="2-3", freezer_months="12"
    )


@pytest.fixture
def fruit(maker):
    return items.add_item(by=maker, name="Bramble", kind="foraged", base="mg")


@pytest.fixture
def pick(bramble, maker):
    found = picks.weigh(plant=bramble, on=APRIL_6, weighings=TUBS, by=maker)
    return picks.sort(pick=found, left=3204 * GRAM, by=maker)


def give(pick, item, grams, maker, **more):
    return picks.give(pick=pick, item=item, amount=grams * GRAM, by=maker, **more)


def test_two_tubs_are_weighed_and_sorted(pick):
    assert pick.net == 3337 * GRAM
    assert (pick.net - pick.usable) / pick.net == pytest.approx(0.0399, abs=0.0001)
    assert Activity.objects.first().summary.endswith("3204 g left, 133 g lost")


def test_more_than_is_left_is_refused_with_what_is_short(pick, fruit, maker):
    give(pick, fruit, 2400, maker, meant_for="wine")

    with pytest.raises(Refusal, match="900 g wanted, 804 g left of BR-260406-1: 96 g short"):
        give(pick, fruit, 900, maker)
    give(pick, fruit, 804, maker, meant_for="cordial")

    assert picks.given_of(pick) == pick.usable
    assert set(Lot.objects.values_list("origin", flat=True)) == {"pick BR-260406-1"}


@pytest.mark.parametrize(
    ("ordinary", "use_by"),
    [(None, "2026-04-07"), (18, "2026-04-07"), (5, "2026-04-08"), (-18, "2027-04-06")],
)
def test_how_long_it_keeps_follows_from_where_it_is_put(pick, fruit, maker, ordinary, use_by):
    place = places.add_place(by=maker, name="There", ordinary_c=ordinary)

    share = give(pick, fruit, 100, maker, place=place)

    assert Lot.objects.get(pk=share.lot_id).use_by.isoformat() == use_by


def test_everything_is_taken_back_in_turn(pick, fruit, maker):
    give(pick, fruit, 100, maker)
    given, sorted_, weighed = Activity.objects.filter(undo__startswith="picks.")[:3]

    with pytest.raises(Refusal, match="Some of it has become a lot"):
        activity.undo(activity=weighed, by=maker)
    activity.undo(activity=given, by=maker)
    activity.undo(activity=sorted_, by=maker)
    activity.undo(activity=weighed, by=maker)

    assert Pick.objects.get().taken_back
    assert ledger.stock([fruit.pk]).get(fruit.pk, 0) == 0
    assert not [found for found in audit.findings() if found.grave]


@pytest.mark.parametrize(
    ("tubs", "words"),
    [
        ([], "at least one tub"),
        ([(74 * GRAM, 74 * GRAM)], "cannot weigh"),
        ([(74 * GRAM, 80 * GRAM)], "A tub of 80 g cannot weigh 74 g"),
        ([(400_000 * GRAM, 0)], "more than anybody picks"),
    ],
)
def test_a_weighing_that_cannot_be_is_refused(bramble, maker, tubs, words):
    with pytest.raises(Refusal, match=words):
        picks.weigh(plant=bramble, on=APRIL_6, weighings=tubs, by=maker)

    assert not Weighing.objects.exists()


def test_sorting_never_makes_more_and_never_less_than_was_given(pick, fruit, maker):
    give(pick, fruit, 3000, maker)

    with pytest.raises(Refusal, match="sorting never makes more"):
        picks.sort(pick=pick, left=3338 * GRAM, by=maker)
    with pytest.raises(Refusal, match="3 kg of it has been given away"):
        picks.sort(pick=pick, left=2999 * GRAM, by=maker)


def test_a_dangerous_likeness_wants_the_features_seen(maker, house):
    elder = Plant.objects.create(slug="elder", common_name="Elder", hazard_level=3)

    with pytest.raises(Refusal, match="which features you saw"):
        picks.weigh(plant=elder, on=APRIL_6, weighings=TUBS, by=maker)
    found = picks.weigh(
        plant=elder, on=APRIL_6, weighings=TUBS, by=maker, confirmed="five leaflets, warty bark"
    )

    assert found.confirmed == "five leaflets, warty bark"


def test_what_must_not_be_picked_is_refused_whatever_was_seen(maker, house):
    plant = Plant.objects.create(
        slug="foe", common_name="Foe", legal_class="do-not-use", legal_note="by law"
    )

    with pytest.raises(Refusal, match="must not be picked: by law"):
        picks.weigh(plant=plant, on=APRIL_6, weighings=TUBS, by=maker, confirmed="all of it")


def test_more_than_the_fair_share_wants_a_reason(bramble, maker):
    patch = patches.add_patch(by=maker, name="Beck Bottom", cap=3000 * GRAM)
    asked = {"plant": bramble, "patch": patch, "on": APRIL_6, "weighings": TUBS, "by": maker}

    with pytest.raises(Refusal, match="over its fair share of 3 kg"):
        picks.weigh(**asked)

    assert picks.weigh(**asked, over_cap="the owner asked us to").net == 3337 * GRAM


RECORD = ["2021-06-28", "2022-06-20", "2023-06-24", "2024-06-16", "2025-06-22"]


def test_the_own_record_is_the_one_of_the_worked_example(bramble, maker):
    for day in RECORD:
        observations.observe(plant=bramble, stage="open", day=dt.date.fromisoformat(day), by=maker)

    record = observations.record_of(observations.own_dates(bramble, sightings.seen()))

    days = [found.number for found in record.dates]
    assert days == [179, 171, 175, 167, 173]
    ends = record.median, record.earliest, record.latest
    assert [date_of(2026, day).isoformat() for day in ends] == [
        "2026-06-22",
        "2026-06-16",
        "2026-06-28",
    ]


def test_a_pick_before_it_was_seen_open_counts_as_the_first_day(bramble, pick, maker):
    observations.observe(
        plant=bramble, stage="open", day=dt.date(2026, 4, 6), by=maker, looked_before=True
    )

    assert [found.day for found in observations.own_dates(bramble, sightings.seen())] == [APRIL_6]


def test_an_observation_to_come_is_refused_and_one_is_taken_back(bramble, maker):
    with pytest.raises(Refusal, match="still to come"):
        observations.observe(plant=bramble, stage="open", day=dt.date(2090, 1, 1), by=maker)
    observations.observe(plant=bramble, stage="open", day=dt.date(2025, 9, 1), by=maker)
    activity.undo(activity=Activity.objects.first(), by=maker)

    assert observations.own_dates(bramble, sightings.seen()) == []


def test_a_calendar_never_tells_where_a_patch_is(bramble, fruit, maker, house):
    patches.add_patch(
        by=maker, name="Beck Bottom", whereabouts="over the second stile", plants=[bramble]
    )
    bramble.item, bramble.first_day, bramble.last_day, bramble.peak_day = fruit, 90, 120, 100
    bramble.save()
    token, _ = feeds.make_token(
        person=maker, label="phone", content="windows", alarm_hours=None, by=maker
    )

    told = feeds.body(token=token, house=house, today=APRIL_6).decode()

    assert "Bramble" in told
    assert "stile" not in told
    assert "Beck Bottom" not in told


def test_the_audit_names_a_pick_that_gave_too_much(pick, fruit, maker):
    give(pick, fruit, 3000, maker)
    Pick.objects.update(sorted_out=1)

    assert {found.rule for found in audit.findings() if found.grave} == {
        "no pick gave more than it had"
    }
    Weighing.objects.update(tare=0)
    assert "a pick weighs what its tubs hold" in {found.rule for found in audit.findings()}


def test_half_a_day_is_counted_from_the_hour_it_was_picked(bramble, fruit, maker):
    bramble.room_days = "0.5"
    bramble.save()
    picked = picks.weigh(plant=bramble, on=APRIL_6, time=dt.time(15, 30), weighings=TUBS, by=maker)

    share = give(picked, fruit, 100, maker)

    local = timezone.localtime(share.until)
    assert (local.date(), local.time()) == (APRIL_6 + dt.timedelta(days=1), dt.time(3, 30))
    assert Lot.objects.get(pk=share.lot_id).use_by == local.date()
