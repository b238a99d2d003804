"""No wine goes into glass while it works, whichever way the step is sent."""

import datetime as dt

import pytest
from django.utils import timezone

from inventory import activity, ledger
from inventory.models import Activity, Item
from inventory.refusals import Refusal
from planner import additions, batches, book, readings, recipes, steadying, step_gates
from planner.models import Batch
from planner.recipes import LineDraft
from tests.conftest import KILO
from tests.inventory.views.reading import text_of
from tests.planner.world import DAMSON_STEPS, LITRE, damson_version, step

START = dt.date(2026, 1, 10)
DAY = dt.date(2026, 4, 1)


def planned(version, maker):
    return batches.plan(recipe_version=version, volume=9 * LITRE, start=START, by=maker)


@pytest.fixture
def batch(maker):
    return planned(damson_version(maker), maker)


@pytest.fixture
def fizz(maker):
    recipe = recipes.add_recipe(name="Crab apple fizz", product="fizz", by=maker)
    return planned(
        recipes.add_version(recipe=recipe, steps=DAMSON_STEPS, lines=[], by=maker), maker
    )


def read(batch, maker, *gravities):
    for day, gravity in gravities:
        at = timezone.make_aware(dt.datetime.combine(START + dt.timedelta(day), dt.time(12)))
        readings.record(batch=batch, kind="gravity", value=gravity, at=at, by=maker)


def bottle(batch, maker):
    return batches.complete_step(step=step(batch, "bottle"), on=DAY, by=maker, filled=True)


FINISHED = ((1, 1.080), (60, 0.995), (64, 0.995))


def test_wine_that_nobody_read_is_not_bottled(batch, maker):
    with pytest.raises(Refusal, match="Stop: It is moving: two equal readings"):
        bottle(batch, maker)

    assert step(batch, "bottle").is_open


def test_wine_that_is_still_twice_is_bottled(batch, maker):
    read(batch, maker, *FINISHED)

    assert bottle(batch, maker).state == "done"
    assert Batch.objects.get().state == "in_glass"


def test_a_stuck_wine_is_not_bottled(batch, maker):
    read(batch, maker, (1, 1.090), (40, 1.030), (50, 1.030))

    with pytest.raises(Refusal, match="stuck, and may start again in the bottle"):
        bottle(batch, maker)


def test_a_steadied_wine_is_bottled_still_and_never_with_fizz(batch, fizz, maker):
    for one in (batch, fizz):
        batches.complete_step(step=step(one, "stabilise"), on=DAY, by=maker)

    assert bottle(batch, maker).state == "done"
    with pytest.raises(Refusal, match="no yeast will make the fizz"):
        bottle(fizz, maker)


def test_fizz_wants_still_twice_too(fizz, maker):
    read(fizz, maker, *FINISHED[:2])
    with pytest.raises(Refusal, match="still twice|two equal readings"):
        bottle(fizz, maker)

    read(fizz, maker, FINISHED[2])
    assert bottle(fizz, maker).state == "done"


def test_a_direct_post_is_stopped_as_well(client, batch, maker, settings):
    client.force_login(maker, backend=settings.AUTHENTICATION_BACKENDS[-1])
    one = step(batch, "bottle")

    answer = client.post(
        f"/steps/{one.pk}/complete/", {"on": "1 Apr 2026", "without": "on", "remark": "no"}
    )

    assert answer.status_code == 422
    assert "two equal readings" in text_of(answer)
    assert step(batch, "bottle").is_open


def test_the_gate_stands_on_the_page_before_the_step_is_begun(client, batch, maker, settings):
    client.force_login(maker, backend=settings.AUTHENTICATION_BACKENDS[-1])
    page = text_of(client.get(f"/batches/{batch.pk}/"))
    assert "It is moving: two equal readings three or more days apart are wanted." in page

    read(batch, maker, *FINISHED)

    assert "nothing that is known speaks against it" in text_of(client.get(f"/batches/{batch.pk}/"))


def test_a_cordial_has_no_such_gate(maker):
    recipe = recipes.add_recipe(name="Cordial", product="cordial", by=maker)
    cordial = planned(
        recipes.add_version(recipe=recipe, steps=DAMSON_STEPS, lines=[], by=maker), maker
    )

    assert bottle(cordial, maker).state == "done"


def test_a_gravity_read_after_the_yeast_is_no_start(batch, maker):
    read(batch, maker, (40, 1.004), (60, 1.001), (64, 1.001))

    with pytest.raises(Refusal, match="Nobody wrote down its gravity before the yeast"):
        bottle(batch, maker)
    found = book.of_batch(batch)
    assert (found.start, found.strength.known) == (None, "not known")


def test_a_start_written_down_late_with_its_own_day_opens_the_gate(batch, maker):
    read(batch, maker, (60, 0.995), (64, 0.995))
    read(batch, maker, (1, 1.080))

    assert bottle(batch, maker).state == "done"


def test_the_start_may_be_read_until_the_day_the_yeast_really_went_in(batch, maker):
    late = START + dt.timedelta(3)
    batches.complete_step(step=step(batch, "enzyme and yeast"), on=late, by=maker)

    read(batch, maker, (3, 1.080), *FINISHED[1:])

    assert book.of_batch(batch).start.day == late


def test_a_later_step_that_is_done_steadies_nothing(batch, maker):
    batches.complete_step(step=step(batch, "ready"), on=DAY, by=maker)
    assert Batch.objects.get().state == "fit"

    with pytest.raises(Refusal, match="Stop: It is moving"):
        bottle(batch, maker)


@pytest.fixture
def sorbate(db):
    return Item.objects.create(name="Potassium sorbate", kind="additive", base="mg")


def steadied_with(sorbate, maker):
    line = LineDraft(item=sorbate, step="stabilise", basis="fixed", amount=4000)
    return planned(damson_version(maker, [line]), maker)


def test_steadying_without_its_sorbate_steadies_nothing(sorbate, maker):
    batch = steadied_with(sorbate, maker)

    batches.complete_step(
        step=step(batch, "stabilise"), on=DAY, by=maker, without=True, remark="none left"
    )

    with pytest.raises(Refusal, match="Stop: It is moving"):
        bottle(batch, maker)


@pytest.mark.parametrize(("given", "is_enough"), [(4000, True), (2000, False)])
def test_steadying_wants_all_that_it_asks_for(sorbate, maker, given, is_enough):
    batch = steadied_with(sorbate, maker)
    ledger.receive(item=sorbate, quantity=given, on=START, by=maker)

    batches.complete_step(
        step=step(batch, "stabilise"), on=DAY, by=maker, without=True, remark="half a sachet"
    )

    assert steadying.is_steadied(batch) is is_enough


def sweeten(batch, sugar, maker, *, grams, purpose="sugar", day=70):
    lot = ledger.receive(item=sugar, quantity=KILO, on=START, by=maker)
    on = START + dt.timedelta(day)
    additions.add(batch=batch, lot=lot, amount=grams * 1000, on=on, purpose=purpose, by=maker)


def test_sugar_that_no_reading_has_seen_stops_a_live_still_wine(batch, sugar, maker):
    read(batch, maker, *FINISHED)
    sweeten(batch, sugar, maker, grams=180)

    with pytest.raises(Refusal, match="20 g/L of sugar, living yeast and a closed bottle"):
        bottle(batch, maker)

    read(batch, maker, (80, 0.996), (84, 0.995))
    assert bottle(batch, maker).state == "done"


def test_a_steadied_wine_may_be_sweetened(batch, sugar, maker):
    batches.complete_step(step=step(batch, "stabilise"), on=DAY, by=maker)
    sweeten(batch, sugar, maker, grams=180)

    assert bottle(batch, maker).state == "done"


def test_sugar_used_by_a_step_counts_like_an_addition(sugar, maker):
    ledger.receive(item=sugar, quantity=KILO, on=START, by=maker)
    line = LineDraft(item=sugar, step="rack again", basis="fixed", amount=180_000)
    batch = planned(damson_version(maker, [line]), maker)
    read(batch, maker, *FINISHED)

    batches.complete_step(step=step(batch, "rack again"), on=DAY, by=maker)

    with pytest.raises(Refusal, match="20 g/L of sugar, living yeast"):
        bottle(batch, maker)


def test_what_went_in_and_is_not_known_counts_as_sugar(maker):
    juice = Item.objects.create(name="Somebody's juice", kind="ingredient", base="uL")
    lot = ledger.receive(item=juice, quantity=LITRE, on=START, by=maker)
    batch = planned(damson_version(maker), maker)
    read(batch, maker, *FINISHED)
    additions.add(batch=batch, lot=lot, amount=1000, on=DAY, purpose="other", by=maker)

    with pytest.raises(Refusal, match="How much sugar is left is not known"):
        bottle(batch, maker)


def test_priming_is_meant_for_fizz_and_other_sugar_is_not(fizz, sugar, maker):
    read(fizz, maker, *FINISHED)
    sweeten(fizz, sugar, maker, grams=90, purpose="priming")
    assert gate_of(fizz).level == "go"

    sweeten(fizz, sugar, maker, grams=90, purpose="sugar")
    assert gate_of(fizz).level == "stop"


def test_sugar_left_in_a_fizz_wants_counting_into_its_priming(fizz, sugar, maker):
    read(fizz, maker, (1, 1.080), (60, 0.9959), (64, 0.9959))
    assert "what sugar is left is not counted" in gate_of(fizz).reasons[0].words

    sweeten(fizz, sugar, maker, grams=40, purpose="priming")
    assert gate_of(fizz).level == "go"


def gate_of(batch):
    one = step(batch, "bottle")
    found = step_gates.of_step(one, kinds=[], book=book.of_batch(batch), on=DAY, is_next=False)
    return found[0]


def test_sorbate_that_was_taken_back_steadies_nothing(sorbate, maker):
    batch = steadied_with(sorbate, maker)
    lot = ledger.receive(item=sorbate, quantity=4000, on=START, by=maker)
    batches.complete_step(step=step(batch, "stabilise"), on=DAY, by=maker)
    assert steadying.is_steadied(batch)
    activity.undo(activity=Activity.objects.filter(undo="end step").first(), by=maker)
    ledger.throw_out(lot=lot, on=DAY, by=maker, reason="spilt")

    batches.complete_step(
        step=step(batch, "stabilise"), on=DAY, by=maker, without=True, remark="none left"
    )

    assert not steadying.is_steadied(batch)


def test_sugar_of_a_step_that_was_taken_back_is_not_counted(sugar, maker):
    ledger.receive(item=sugar, quantity=KILO, on=START, by=maker)
    line = LineDraft(item=sugar, step="rack again", basis="fixed", amount=180_000)
    batch = planned(damson_version(maker, [line]), maker)
    read(batch, maker, *FINISHED)
    batches.complete_step(step=step(batch, "rack again"), on=DAY, by=maker)
    assert gate_of(batch).level == "stop"

    activity.undo(activity=Activity.objects.filter(undo="end step").first(), by=maker)

    assert gate_of(batch).level == "go"


def test_priming_that_is_only_planned_counts_no_sugar_that_is_left(sugar, maker):
    recipe = recipes.add_recipe(name="Crab apple fizz", product="fizz", by=maker)
    line = LineDraft(item=sugar, step="bottle", basis="per_litre", amount=8000)
    version = recipes.add_version(recipe=recipe, steps=DAMSON_STEPS, lines=[line], by=maker)
    batch = planned(version, maker)

    read(batch, maker, (1, 1.080), (60, 0.9959), (64, 0.9959))

    assert "what sugar is left is not counted" in gate_of(batch).reasons[0].words
