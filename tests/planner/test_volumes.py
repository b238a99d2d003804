"""What there is of a batch: made, sampled, racked, parted and poured together; never less than nothing."""

import datetime as dt

import pytest

from inventory import activity, audit, ledger
from inventory.models import Activity, Requirement
from inventory.refusals import Refusal
from planner import batches, book, parting, readings, volumes
from planner.models import Batch, Step, Transfer
from planner.told import Told
from tests.conftest import KILO, PIECE
from tests.planner.world import (
    AT_20,
    LITRE,
    SATURDAY,
    damson_batch,
    step,
    sugar_line,
    yeast_line,
)

ML = 1000
LATER = SATURDAY + dt.timedelta(days=40)


@pytest.fixture
def today(settings, house):
    settings.PRETEND_TODAY = LATER


@pytest.fixture
def batch(today, maker):
    return damson_batch(maker)


def left(batch):
    return volumes.of_batch(batch).amount


def test_a_batch_that_nobody_measured_stands_at_its_plan(batch):
    assert volumes.of_batch(batch) == volumes.Volume(18 * LITRE, False)


def test_the_ledger_goes_from_must_to_rest_line_by_line(batch, maker):
    volumes.begin(batch=batch, volume=9_300 * ML, on=SATURDAY, by=maker)
    volumes.take(batch=batch, cause="sample", amount=150 * ML, on=LATER, by=maker)
    volumes.take(batch=batch, cause="hose", amount=100 * ML, on=LATER, by=maker)

    assert left(batch) == 9_050 * ML
    assert [line.left for line in volumes.lines_of(batch)] == [9_300 * ML, 9_150 * ML, 9_050 * ML]


def test_pressing_and_racking_by_their_steps_say_what_stayed_behind(batch, maker):
    steps = {"mash": 18.0, "press": 17.0, "rack": 16.0, "rack again": 15.8}
    for title, litres in steps.items():
        batches.complete_step(
            step=step(batch, title), on=LATER, by=maker, told=Told(volume=round(litres * LITRE))
        )

    rows = Transfer.objects.values_list("cause", "change")
    assert list(rows) == [
        ("made", 18 * LITRE),
        ("cake", -LITRE),
        ("lees", -LITRE),
        ("lees", -200 * ML),
    ]


def test_more_than_there_is_is_refused(batch, maker):
    volumes.begin(batch=batch, volume=LITRE, on=SATURDAY, by=maker)

    with pytest.raises(Refusal, match=r"1500 mL wanted, 1 L of Damson 2026 are there|1.5 L wanted"):
        volumes.take(batch=batch, cause="lees", amount=1_500 * ML, on=LATER, by=maker)

    assert left(batch) == LITRE


@pytest.mark.parametrize(
    ("day", "words"),
    [(SATURDAY - dt.timedelta(days=1), "begins on"), (LATER + dt.timedelta(days=1), "to come")],
)
def test_a_day_outside_its_life_is_refused(batch, maker, day, words):
    with pytest.raises(Refusal, match=words):
        volumes.begin(batch=batch, volume=LITRE, on=day, by=maker)


def test_every_line_is_taken_back_by_its_opposite(batch, maker):
    volumes.begin(batch=batch, volume=LITRE, on=SATURDAY, by=maker)
    volumes.put(batch=batch, cause="topped", amount=100 * ML, on=LATER, by=maker)

    activity.undo(activity=Activity.objects.latest("pk"), by=maker)

    assert left(batch) == LITRE
    with pytest.raises(Refusal, match="undone already"):
        activity.undo(activity=Activity.objects.filter(verb="volume").latest("pk"), by=maker)


def test_what_was_drawn_on_cannot_be_taken_back(batch, maker):
    volumes.begin(batch=batch, volume=LITRE, on=SATURDAY, by=maker)
    begun = Activity.objects.latest("pk")
    volumes.take(batch=batch, cause="spilt", amount=100 * ML, on=LATER, by=maker)

    with pytest.raises(Refusal, match="take later lines back first"):
        activity.undo(activity=begun, by=maker)


def test_pouring_from_one_into_another_moves_and_loses_nothing(batch, maker):
    other = batches.plan(
        recipe_version=batch.recipe_version, volume=9 * LITRE, start=SATURDAY, by=maker
    )

    volumes.pour(source=batch, target=other, amount=2 * LITRE, on=LATER, by=maker)

    assert (left(batch), left(other)) == (16 * LITRE, 11 * LITRE)


@pytest.fixture
def supplied(today, maker, sugar, yeast):
    found = damson_batch(maker, [sugar_line(sugar, step="rack"), yeast_line(yeast)])
    ledger.receive(item=sugar, quantity=4 * KILO, on=SATURDAY, by=maker)
    ledger.receive(item=yeast, quantity=PIECE, on=SATURDAY, by=maker)
    batches.complete_step(step=step(found, "mash"), on=SATURDAY, by=maker)
    batches.complete_step(step=step(found, "enzyme and yeast"), on=SATURDAY, by=maker, told=AT_20)
    at = dt.datetime(2026, 9, 12, 18, tzinfo=dt.UTC)
    readings.record(batch=found, kind="gravity", value=1.085, at=at, by=maker, temperature_c=20)
    return found


def test_a_part_goes_its_own_way_with_book_steps_and_share(supplied, maker):
    child = parting.part(batch=supplied, amount=6 * LITRE, name="Damson dry", on=LATER, by=maker)

    assert (left(supplied), left(child)) == (12 * LITRE, 6 * LITRE)
    assert book.of_batch(child).start.figure.value == pytest.approx(1.085, abs=0.0002)
    open_titles = [one.title for one in supplied.steps.filter(state="to_do").order_by("place")]
    assert [one.title for one in child.steps.order_by("place")] == open_titles
    needs = (
        Requirement.objects.filter(state="open").order_by("pk").values_list("quantity", flat=True)
    )
    # 18 L at 189 g: 3.402 kg, a third of it goes with the part.
    assert list(needs) == [2_268_000, 1_134_000]
    assert not list(audit.findings())


def test_a_part_is_undone_while_it_is_untouched(supplied, maker):
    child = parting.part(batch=supplied, amount=6 * LITRE, name="", on=LATER, by=maker)

    activity.undo(activity=Activity.objects.get(undo="parting.part"), by=maker)

    child.refresh_from_db()
    assert (left(supplied), child.state) == (18 * LITRE, "dropped")
    open_needs = Requirement.objects.filter(state="open")
    assert [need.quantity for need in open_needs] == [3_402_000]
    assert not list(audit.findings())


def test_two_become_one_and_the_first_has_nothing_left_to_do(supplied, maker):
    other = batches.plan(
        recipe_version=supplied.recipe_version, volume=9 * LITRE, start=SATURDAY, by=maker
    )

    parting.join(source=supplied, target=other, on=LATER, by=maker)

    supplied.refresh_from_db()
    assert (supplied.state, left(supplied), left(other)) == ("joined", 0, 27 * LITRE)
    assert not supplied.steps.filter(state="to_do").exists()
    assert not list(audit.findings())

    activity.undo(activity=Activity.objects.get(undo="parting.join"), by=maker)

    supplied.refresh_from_db()
    assert (supplied.state, left(supplied), left(other)) == ("working", 18 * LITRE, 9 * LITRE)
    assert supplied.steps.filter(state="to_do").count() == 8
    assert not list(audit.findings())


@pytest.mark.parametrize(
    ("amount", "words"), [(18 * LITRE, "less of it"), (0, "more than nothing")]
)
def test_no_part_is_the_whole_or_nothing(batch, maker, amount, words):
    with pytest.raises(Refusal, match=words):
        parting.part(batch=batch, amount=amount, name="", on=LATER, by=maker)

    assert Batch.objects.count() == 1
    assert Step.objects.count() == 10
