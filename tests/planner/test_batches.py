import datetime as dt

import pytest

from inventory import activity, ledger
from inventory.models import Activity, Lot, Movement, Requirement, Reservation
from inventory.refusals import Refusal
from planner import batches, recipes
from planner.models import Batch, Step
from planner.recipes import StepDraft
from tests.planner.world import (
    LITRE,
    SATURDAY,
    damson_batch,
    damson_version,
    sequences,
    step,
    sugar_line,
    yeast_line,
)

KILO = 1_000_000
PIECE = 1000


@pytest.fixture
def version(maker, sugar, yeast):
    return damson_version(maker, [sugar_line(sugar, amount=200_000), yeast_line(yeast)])


@pytest.fixture
def batch(version, maker):
    return batches.plan(recipe_version=version, volume=18 * LITRE, start=SATURDAY, by=maker)


@pytest.fixture
def harvest_time(settings):
    settings.PRETEND_TODAY = dt.date(2026, 9, 30)


def undo_last(maker):
    activity.undo(activity=Activity.objects.first(), by=maker)


def stock(item, quantity, maker):
    return ledger.receive(item=item, quantity=quantity, on=dt.date(2026, 4, 6), by=maker)


def states_of_needs():
    return list(Requirement.objects.order_by("pk").values_list("state", flat=True))


def test_batch_asks_for_its_lines_on_the_days_of_their_steps(batch, sugar, yeast):
    need, sachet = Requirement.objects.order_by("day")

    assert (need.item, need.quantity, need.day) == (sugar, 3_600_000, SATURDAY)
    assert (sachet.item, sachet.quantity, sachet.day) == (yeast, PIECE, dt.date(2026, 9, 13))
    assert need.label == "Damson 2026: mash"
    assert need.origin == f"batch:{batch.pk}"
    assert need.link == step(batch, "mash").get_absolute_url()


def test_what_is_in_the_house_is_promised_to_it(version, maker, sugar):
    lot = stock(sugar, 2 * KILO, maker)

    batches.plan(recipe_version=version, volume=18 * LITRE, start=SATURDAY, by=maker)

    assert list(Reservation.objects.values_list("lot", "quantity")) == [(lot.pk, 2 * KILO)]


def test_name_is_made_of_recipe_year_and_a_running_number(version, maker):
    made = [
        batches.plan(recipe_version=version, volume=LITRE, start=SATURDAY, by=maker).name
        for _ in range(3)
    ]

    assert made == ["Damson 2026", "Damson 2026 (2)", "Damson 2026 (3)"]


def test_taken_name_is_refused(batch, version, maker):
    with pytest.raises(Refusal, match="called Damson 2026 already") as refusal:
        batches.plan(
            recipe_version=version, volume=LITRE, start=SATURDAY, by=maker, name="Damson 2026"
        )

    assert refusal.value.field == "name"
    assert Batch.objects.count() == 1


@pytest.mark.parametrize("volume", [0, -LITRE, 10_000 * LITRE + 1])
def test_volume_beyond_sense_is_refused(version, maker, volume):
    with pytest.raises(Refusal) as refusal:
        batches.plan(recipe_version=version, volume=volume, start=SATURDAY, by=maker)

    assert refusal.value.field == "volume"


@pytest.mark.parametrize("start", [dt.date(1899, 12, 31), dt.date(2199, 12, 1)])
def test_start_whose_steps_leave_the_years_of_the_house_is_refused(version, maker, start):
    with pytest.raises(Refusal) as refusal:
        batches.plan(recipe_version=version, volume=LITRE, start=start, by=maker)

    assert refusal.value.field == "start"
    assert not Batch.objects.exists()


def test_version_without_steps_is_refused(version, maker):
    version.lines.all().delete()
    version.steps.all().delete()

    with pytest.raises(Refusal, match="no steps yet"):
        batches.plan(recipe_version=version, volume=LITRE, start=SATURDAY, by=maker)


def test_recipe_put_away_is_refused(version, maker):
    recipes.archive(recipe=version.recipe, by=maker)

    with pytest.raises(Refusal, match="put away"):
        batches.plan(recipe_version=version, volume=LITRE, start=SATURDAY, by=maker)


def test_planning_leaves_one_activity_whose_undo_gives_the_batch_up(batch, maker):
    planned = Activity.objects.first()

    undo_last(maker)

    assert planned.summary == "Set down Damson 2026"
    assert Batch.objects.get(pk=batch.pk).state == "dropped"
    assert states_of_needs() == ["withdrawn", "withdrawn"]


def test_planning_takes_as_many_queries_for_three_steps_as_for_ten(
    version, maker, django_assert_max_num_queries
):
    recipe = recipes.add_recipe(name="Short", product="still", by=maker)
    steps = [StepDraft(key=str(n), title=f"Step {n}", offset_days=n) for n in range(3)]
    short = recipes.add_version(recipe=recipe, steps=steps, lines=[], by=maker)
    with django_assert_max_num_queries(100) as few:
        batches.plan(recipe_version=short, volume=LITRE, start=SATURDAY, by=maker)
    steps = [StepDraft(key=str(n), title=f"Step {n}", offset_days=n) for n in range(30)]
    long = recipes.add_version(recipe=recipe, steps=steps, lines=[], by=maker)

    with django_assert_max_num_queries(len(few)):
        batches.plan(recipe_version=long, volume=LITRE, start=SATURDAY, by=maker)


def test_drop_frees_everything_and_undo_brings_it_back(version, maker, sugar, bucket, jar):
    stock(sugar, 2 * KILO, maker)
    batch = batches.plan(
        recipe_version=version, volume=4 * LITRE, start=SATURDAY, by=maker, vessels=[bucket, jar]
    )
    booked = list(batch.occupancies.values_list("vessel", "begins", "ends"))

    batches.drop(batch=batch, by=maker)

    batch.refresh_from_db()
    assert (batch.state, batch.dropped) == ("dropped", dt.date(2026, 4, 6))
    assert states_of_needs() == ["withdrawn", "withdrawn"]
    assert not Reservation.objects.exists()
    assert not batch.occupancies.exists()
    assert set(batch.steps.values_list("state", flat=True)) == {"cancelled"}

    undo_last(maker)

    batch.refresh_from_db()
    assert (batch.state, batch.dropped) == ("set_down", None)
    assert states_of_needs() == ["open", "open"]
    assert Reservation.objects.get().quantity == 800_000
    assert list(batch.occupancies.values_list("vessel", "begins", "ends")) == booked
    assert set(batch.steps.values_list("state", flat=True)) == {"to_do"}
    assert sequences(batch) == [2] * 10


def test_drop_leaves_done_steps_done(batch, maker, sugar, harvest_time):
    stock(sugar, 4 * KILO, maker)
    batches.complete_step(step=step(batch, "mash"), on=SATURDAY, by=maker)

    batches.drop(batch=batch, by=maker)

    assert step(batch, "mash").state == "done"
    assert states_of_needs() == ["met", "withdrawn"]


def test_dropped_batch_takes_no_more_work(batch, maker):
    batches.drop(batch=batch, by=maker)

    with pytest.raises(Refusal, match="has been dropped"):
        batches.move_step(step=step(batch, "press"), day=dt.date(2026, 9, 25), by=maker)
    with pytest.raises(Refusal, match="has been dropped"):
        batches.drop(batch=batch, by=maker)


def test_new_name_shows_in_events_and_requirements(batch, maker):
    batches.edit_batch(
        batch=batch, version=batch.version, values={"name": "Hedge damson"}, by=maker
    )

    assert sequences(batch) == [1] * 10
    assert Requirement.objects.order_by("day").first().label == "Hedge damson: mash"


def test_new_notes_leave_the_events_as_they_are(batch, maker):
    batches.edit_batch(batch=batch, version=batch.version, values={"notes": "Dry"}, by=maker)

    assert sequences(batch) == [0] * 10


def test_state_set_by_hand_can_be_undone(batch, maker):
    batches.set_state(batch=batch, state="quiet", by=maker)
    quiet = Batch.objects.get(pk=batch.pk).state

    undo_last(maker)

    assert quiet == "quiet"
    assert Batch.objects.get(pk=batch.pk).state == "set_down"


def test_two_batches_may_be_dropped_and_restored_one_after_the_other(version, maker, sugar):
    stock(sugar, 4 * KILO, maker)
    first = batches.plan(recipe_version=version, volume=18 * LITRE, start=SATURDAY, by=maker)
    second = batches.plan(recipe_version=version, volume=18 * LITRE, start=SATURDAY, by=maker)

    batches.drop(batch=first, by=maker)

    promised = Reservation.objects.get(requirement__origin=second.origin)
    assert promised.quantity == 3_600_000


def test_nothing_is_written_when_a_quantity_is_beyond_reason(maker, sugar):
    version = damson_version(maker, [sugar_line(sugar, amount=10**15)])

    with pytest.raises(Refusal, match="quantity"):
        batches.plan(recipe_version=version, volume=18 * LITRE, start=SATURDAY, by=maker)

    assert not Batch.objects.exists()
    assert not Step.objects.exists()
    assert not Lot.objects.exists()
    assert not Movement.objects.exists()


def test_damson_world_plans_ten_steps(maker):
    assert damson_batch(maker).steps.count() == 10
