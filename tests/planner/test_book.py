"""Readings and additions of a batch: what they say, what is refused, what is taken back."""

import datetime as dt

import pytest
from django.utils import timezone

from inventory import activity, audit, ledger
from inventory.models import Activity
from inventory.refusals import Refusal
from planner import additions, batches, book, readings
from planner.curve_picture import curve_picture
from planner.models import Addition, Reading
from tests.conftest import KILO
from tests.planner.world import LITRE, damson_version

START = dt.date(2026, 1, 10)


@pytest.fixture
def batch(maker):
    """Begun in January; the tests' today is later."""
    version = damson_version(maker)
    return batches.plan(recipe_version=version, volume=9 * LITRE, start=START, by=maker)


def at(day, hour=12):
    when = dt.datetime.combine(START + dt.timedelta(days=day), dt.time(hour))
    return timezone.make_aware(when)


def read(batch, maker, day, gravity, **more):
    return readings.record(batch=batch, kind="gravity", value=gravity, at=at(day), by=maker, **more)


def test_equal_readings_three_days_apart_are_still_twice(batch, maker):
    read(batch, maker, 1, 1.080)
    read(batch, maker, 50, 0.995)
    once = book.of_batch(batch).stillness.state
    read(batch, maker, 53, 0.995)

    found = book.of_batch(batch)
    assert (once, found.stillness.state) == ("moving", "still twice")
    # Worked example: 11.3 % by the extract method.
    assert found.strength.value == pytest.approx(11.3, abs=0.05)


def test_a_stuck_wine_is_said_to_be_stuck(batch, maker):
    read(batch, maker, 1, 1.090)
    read(batch, maker, 30, 1.030)
    read(batch, maker, 34, 1.030)

    assert book.of_batch(batch).stillness.stuck


@pytest.mark.parametrize(
    ("reading", "sample", "true"), [(1.078, 34, 1.0826), (1.074, 41, 1.0813), (1.100, 10, 1.0975)]
)
def test_a_gravity_is_corrected_beside_what_was_read(batch, maker, reading, sample, true):
    read(batch, maker, 1, reading, temperature_c=sample, reference_c=20)

    found = book.of_batch(batch).start
    assert found.reading.number == reading
    assert found.figure.value == pytest.approx(true, abs=3e-4)
    assert found.figure.known == "worked out"


def test_without_the_samples_temperature_it_stands_as_read(batch, maker):
    read(batch, maker, 1, 1.080)

    figure = book.of_batch(batch).start.figure
    assert (figure.value, figure.known) == (1.080, "measured")


def test_a_struck_reading_stays_and_counts_no_more(batch, maker):
    read(batch, maker, 1, 1.080)
    wrong = read(batch, maker, 2, 1.180)

    readings.strike(reading=wrong, reason="read from above", by=maker)

    found = book.of_batch(batch)
    assert (len(found.readings), len(found.gravities)) == (2, 1)
    with pytest.raises(Refusal, match="struck through already"):
        readings.strike(reading=wrong, reason="again", by=maker)
    activity.undo(activity=Activity.objects.filter(undo="readings.strike").get(), by=maker)
    assert len(book.of_batch(batch).gravities) == 2


def test_undoing_a_reading_strikes_it_through(batch, maker):
    read(batch, maker, 1, 1.080)

    activity.undo(activity=Activity.objects.first(), by=maker)

    assert Reading.objects.get().struck == "taken back"


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"kind": "gravity", "value": 0.8}, "between 0.95 and 1.2"),
        ({"kind": "gravity", "value": 1.9}, "between 0.95 and 1.2"),
        ({"kind": "ph", "value": 12}, "between 1.5 and 9"),
        ({"kind": "colour", "value": 1}, "nothing that is read"),
        ({"kind": "gravity", "value": 1.08, "day": -2}, "a reading comes after"),
        ({"kind": "gravity", "value": 1.08, "day": 900}, "still to come"),
        ({"kind": "free_so2", "value": -1}, "between 0 and 500"),
    ],
)
def test_a_reading_that_cannot_be_is_refused(batch, maker, values, words):
    day = values.pop("day", 1)

    with pytest.raises(Refusal, match=words):
        readings.record(batch=batch, at=at(day), by=maker, **values)

    assert not Reading.objects.exists()


def test_an_hour_still_to_come_is_refused(batch, maker, settings):
    settings.PRETEND_TODAY = None
    later = timezone.now() + dt.timedelta(minutes=30)
    if timezone.localtime(later).date() != timezone.localdate():
        pytest.skip("half an hour before midnight the day is refused instead")

    with pytest.raises(Refusal, match="is still to come"):
        readings.record(batch=batch, kind="ph", value=3.3, at=later, by=maker)


def test_free_sulphite_above_the_total_of_the_day_is_refused(batch, maker):
    readings.record(batch=batch, kind="total_so2", value=60, at=at(5), by=maker)

    with pytest.raises(Refusal, match="Free SO2 of 80 mg/L cannot be more than the total of 60"):
        readings.record(batch=batch, kind="free_so2", value=80, at=at(5, 18), by=maker)


def test_the_quiet_day_is_foretold_and_drawn(batch, maker):
    for day, gravity in ((1, 1.080), (5, 1.056), (10, 1.026), (18, 1.005)):
        read(batch, maker, day, gravity)
    found = book.of_batch(batch)

    expected, low, _ = found.quiet_days
    picture = curve_picture(found, today=START + dt.timedelta(days=20))

    assert low <= expected
    assert START + dt.timedelta(days=18) < expected < START + dt.timedelta(days=80)
    assert picture.finding.startswith("Moving: no two equal readings yet. Quiet about")
    assert len(picture.facts) == 4


def test_one_reading_draws_no_curve(batch, maker):
    read(batch, maker, 1, 1.080)

    assert curve_picture(book.of_batch(batch), today=START) is None


def test_the_book_takes_one_query_however_long_it_is(batch, maker, django_assert_num_queries):
    batch.recipe_version.recipe  # noqa: B018
    for day in range(1, 12):
        read(batch, maker, day, 1.08 - day / 200)

    with django_assert_num_queries(1):
        book.of_batch(batch)


@pytest.fixture
def sugar_lot(sugar, maker):
    return ledger.receive(item=sugar, quantity=KILO, on=START, by=maker)


def add(batch, lot, amount, maker, **more):
    values = {"purpose": "sugar", "on": START + dt.timedelta(days=3)} | more
    return additions.add(batch=batch, lot=lot, amount=amount, by=maker, **values)


def test_an_addition_comes_out_of_its_lot_with_its_rule(batch, sugar_lot, maker):
    row = add(batch, sugar_lot, 350_000, maker, rule="mass balance", source="ICUMSA SPS-4")

    assert ledger.on_hand(sugar_lot) == 650_000
    assert (row.what, row.rule, row.movement.quantity) == ("White sugar", "mass balance", -350_000)
    assert Activity.objects.first().summary == f"Added 350 g of White sugar to {batch}"


def test_an_addition_is_taken_back_once_with_its_line(batch, sugar_lot, maker):
    add(batch, sugar_lot, 350_000, maker)
    done = Activity.objects.first()

    activity.undo(activity=done, by=maker)

    assert ledger.on_hand(sugar_lot) == KILO
    assert Addition.objects.get().taken_back
    with pytest.raises(Refusal):
        activity.undo(activity=done, by=maker)


def test_water_needs_no_lot_and_everything_else_does(batch, maker):
    add(batch, None, LITRE, maker, purpose="water")

    with pytest.raises(Refusal, match="out of which lot"):
        add(batch, None, 1000, maker)


@pytest.mark.parametrize(
    ("amount", "more", "words"),
    [
        (2 * KILO, {}, "2 kg of White sugar wanted, 1 kg in"),
        (0, {}, "more than nothing"),
        (1, {"purpose": "magic"}, "no purpose"),
        (1, {"on": START - dt.timedelta(days=1)}, "begins on"),
        (1, {"on": dt.date(2190, 1, 1)}, "still to come"),
    ],
)
def test_an_addition_that_cannot_be_leaves_everything_as_it_was(
    batch, sugar_lot, maker, amount, more, words
):
    with pytest.raises(Refusal, match=words):
        add(batch, sugar_lot, amount, maker, **more)

    assert ledger.on_hand(sugar_lot) == KILO
    assert not Addition.objects.exists()


@pytest.mark.parametrize("text", ["1 tsp", "2 teaspoons", "half a spoon", "1 tbsp"])
def test_sulphite_by_the_spoon_is_refused(text):
    with pytest.raises(Refusal, match="weighed, never measured by the spoon"):
        additions.refuse_spoons(text, "sulphite")


def test_sugar_by_the_spoon_is_not_refused():
    additions.refuse_spoons("1 tsp", "sugar")


def broken():
    return {found.rule for found in audit.findings() if found.grave}


def test_the_audit_finds_nothing_after_work_and_every_broken_row(batch, sugar_lot, maker):
    read(batch, maker, 1, 1.080)
    row = add(batch, sugar_lot, 350_000, maker)
    assert broken() == set()

    Addition.objects.filter(pk=row.pk).update(amount=1)
    Reading.objects.update(at=at(-5))

    assert broken() == {
        "what was added to a batch is in the ledger, as much and once",
        "a reading comes after its batch began, and a struck one says why",
    }
