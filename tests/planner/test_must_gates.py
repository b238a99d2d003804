"""Identity, hold clock, start and yeast in, from the facts of a batch to the step that is done."""

import datetime as dt

import pytest

from inventory import activity, ledger
from inventory.models import Activity, Item, Lot, Requirement, Reservation, Vessel
from inventory.refusals import Refusal
from planner import additions, batches, must_gates, picks, recipes
from planner.models import Override, Plant, Reading, Transfer
from planner.recipes import LineDraft, StepDraft
from planner.told import Told
from tests.conftest import KILO, PIECE
from tests.planner.world import LITRE, SATURDAY, damson_batch, step, yeast_line

SUNDAY = SATURDAY + dt.timedelta(days=1)


@pytest.fixture
def today(settings, house):
    settings.PRETEND_TODAY = SUNDAY


@pytest.fixture
def known_yeast(yeast):
    yeast.coolest_c, yeast.warmest_c = 15, 30
    yeast.save()
    return yeast


@pytest.fixture
def batch(today, maker, known_yeast):
    found = damson_batch(maker, [yeast_line(known_yeast)])
    ledger.receive(item=known_yeast, quantity=PIECE, on=SATURDAY, by=maker)
    batches.complete_step(step=step(found, "mash"), on=SATURDAY, by=maker)
    return found


def pitch(batch, maker, **told):
    return batches.complete_step(
        step=step(batch, "enzyme and yeast"), on=SUNDAY, by=maker, told=Told(**told)
    )


@pytest.mark.parametrize(
    ("warm", "words"), [(34, "34 °C is over the yeast's 30 °C"), (8, "under the yeast's 15")]
)
def test_yeast_waits_for_a_must_that_it_bears(batch, maker, warm, words):
    with pytest.raises(Refusal, match=words) as refused:
        pitch(batch, maker, must_c=warm)

    assert refused.value.field == "must_c"
    assert not Reading.objects.exists()


def test_at_24_degrees_it_goes_in_and_the_reading_is_kept(batch, maker):
    assert pitch(batch, maker, must_c=24.0).state == "done"

    kept = Reading.objects.get()
    assert (kept.kind, kept.number) == ("temperature", 24.0)
    activity.undo(
        activity=Activity.objects.get(verb="complete", summary__contains="yeast"), by=maker
    )
    assert Reading.objects.get().struck


def test_a_must_nobody_measured_gets_no_yeast(batch, maker):
    with pytest.raises(Refusal, match="how warm the must is is not known|How warm"):
        pitch(batch, maker)


def test_sulphite_of_yesterday_holds_the_yeast_back(batch, maker, sugar):
    salt = Item.objects.create(name="Potassium metabisulphite", kind="additive", base="mg")
    lot = ledger.receive(item=salt, quantity=KILO, on=SATURDAY, by=maker)
    additions.add(batch=batch, lot=lot, amount=900, on=SUNDAY, by=maker, purpose="sulphite")

    with pytest.raises(Refusal, match=r"sulphite went in|Sulphite went in"):
        pitch(batch, maker, must_c=22.0)


def test_an_unknown_packet_wants_a_reason_that_is_kept(today, maker, yeast):
    found = damson_batch(maker, [yeast_line(yeast)])
    ledger.receive(item=yeast, quantity=PIECE, on=SATURDAY, by=maker)

    with pytest.raises(Refusal, match="Look again") as refused:
        pitch(found, maker, must_c=22.0)
    assert refused.value.field == "reason"
    pitch(found, maker, must_c=22.0, reason="worked at this last year")

    kept = Override.objects.get()
    assert (kept.gate, kept.reason, kept.by) == ("yeast in", "worked at this last year", maker)


@pytest.fixture
def elderberries(maker):
    item = Item.objects.create(name="Elderberries", kind="foraged", base="mg")
    plant = Plant.objects.create(
        slug="elderberry", common_name="Elderberry", item=item, hazard_level=3,
        hazard_text="Raw fruit sickens", room_days="2",
    )  # fmt: skip
    return plant


def berries_line(plant):
    return LineDraft(item=plant.item, step="mash", basis="per_litre", amount=300_000, is_fruit=True)


def test_a_plant_with_a_toxic_part_wants_its_features_once(today, maker, elderberries):
    found = damson_batch(maker, [berries_line(elderberries)])
    ledger.receive(item=elderberries.item, quantity=6 * KILO, on=SATURDAY, by=maker)
    mash = step(found, "mash")

    with pytest.raises(Refusal, match="features part Elderberry") as refused:
        batches.complete_step(step=mash, on=SATURDAY, by=maker)
    assert refused.value.field == "confirmed"

    told = Told(confirmed="flat heads of black fruit, paired leaves")
    assert batches.complete_step(step=mash, on=SATURDAY, by=maker, told=told).state == "done"


def test_what_was_told_with_the_pick_is_enough(today, maker, elderberries):
    found = damson_batch(maker, [berries_line(elderberries)])
    tub = [(7 * KILO, KILO)]
    pick = picks.weigh(
        plant=elderberries, on=SATURDAY, weighings=tub, by=maker, confirmed="flat heads"
    )
    picks.give(pick=pick, item=elderberries.item, amount=6 * KILO, by=maker)

    assert batches.complete_step(step=step(found, "mash"), on=SATURDAY, by=maker).state == "done"


def test_what_must_not_be_used_is_stopped_whatever_is_told(today, maker, elderberries):
    elderberries.legal_class = "do-not-use"
    elderberries.save()
    found = damson_batch(maker, [berries_line(elderberries)])
    ledger.receive(item=elderberries.item, quantity=6 * KILO, on=SATURDAY, by=maker)

    with pytest.raises(Refusal, match="must not be used"):
        batches.complete_step(
            step=step(found, "mash"), on=SATURDAY, by=maker, told=Told(confirmed="sure")
        )


def test_a_lot_put_by_by_hand_past_its_date_is_looked_at_again(today, maker, sugar):
    line = LineDraft(item=sugar, step="mash", basis="per_litre", amount=100_000)
    found = damson_batch(maker, [line])
    lot = ledger.receive(item=sugar, quantity=3 * KILO, on=SATURDAY, by=maker)
    Lot.objects.filter(pk=lot.pk).update(use_by=SATURDAY - dt.timedelta(days=3))
    need = Requirement.objects.get()
    Reservation.objects.all().delete()
    Reservation.objects.create(lot=lot, requirement=need, quantity=need.quantity, by_hand=True)

    [hold, *_] = must_gates.of_step(
        step(found, "mash"), kinds=["ingredient"], on=SATURDAY, told=Told()
    )

    assert (hold.gate, hold.level) == ("hold clock", "look again")


def fruit_batch(maker, bucket, cake=None, name="Damsons"):
    item = Item.objects.create(name=name, kind="foraged", base="mg")
    line = LineDraft(item=item, step="mash", basis="per_litre", amount=300_000, is_fruit=True)
    return damson_batch(maker, [line], vessels=[bucket])


def start_gate(batch):
    found = must_gates.of_step(step(batch, "mash"), kinds=["foraged"], on=SATURDAY, told=Told())
    return [one for one in found if one.gate == "start"]


def test_what_may_not_fit_with_its_fruit_is_looked_at_again(today, maker, bucket):
    levels = [one.level for one in start_gate(fruit_batch(maker, bucket))]

    # 18 L and 5.4 kg of fruit in 27.3 L less 15 %: 23.4 against 23.2 at the most.
    assert levels == ["go", "look again"]


def test_what_does_not_fit_is_stopped_with_the_ways_out(today, maker, house):
    small = Vessel.objects.create(name="Small bucket", kind="open", brimful=19_600_000)

    [found, *_] = start_gate(fruit_batch(maker, small))

    assert found.level == "stop"
    assert "18.0 L do not fit: Small bucket takes 16.7 L" in found.reasons[0].words


def test_a_bucket_still_in_use_is_looked_at_again(today, maker, bucket):
    first = fruit_batch(maker, bucket)
    version = first.recipe_version
    second = batches.plan(
        recipe_version=version, volume=9 * LITRE, start=SATURDAY, by=maker, vessels=[bucket]
    )

    assert any("is in use" in r.words for one in start_gate(second) for r in one.reasons)


def test_the_start_asks_for_volume_and_gravity_and_both_are_kept(today, maker):
    found = damson_batch(maker)

    done = batches.complete_step(
        step=step(found, "mash"),
        on=SATURDAY,
        by=maker,
        told=Told(volume=17_500_000, gravity=1.078, sample_c=34.0),
    )

    assert Transfer.objects.get().change == 17_500_000
    assert Reading.objects.get().temperature == 34_000
    activity.undo(activity=Activity.objects.filter(verb="complete").latest("pk"), by=maker)
    done.refresh_from_db()
    assert (done.state, sum(row.change for row in Transfer.objects.all())) == ("to_do", 0)


def test_a_step_kept_for_a_quiet_wine_is_looked_at_again_while_it_moves(today, maker):
    recipe = recipes.add_recipe(name="Sloe", product="still", by=maker)
    steps = [StepDraft(key="fine", title="Fine it", when_still=True)]
    version = recipes.add_version(recipe=recipe, steps=steps, lines=[], by=maker)
    found = batches.plan(recipe_version=version, volume=LITRE, start=SATURDAY, by=maker)

    with pytest.raises(Refusal, match="keeps this step until it is still twice") as refused:
        batches.complete_step(step=step(found, "Fine it"), on=SATURDAY, by=maker)

    assert refused.value.field == "reason"


def test_a_step_that_the_recipe_repeats_stands_on_each_of_its_days(today, maker):
    recipe = recipes.add_recipe(name="Sloe", product="still", by=maker)
    steps = [
        StepDraft(key="mash", title="Mash"),
        StepDraft(key="stir", title="Stir", offset_days=1, times=3, every_days=2),
        StepDraft(key="press", title="Press", offset_days=4),
    ]
    version = recipes.add_version(recipe=recipe, steps=steps, lines=[], by=maker)

    found = batches.plan(recipe_version=version, volume=LITRE, start=SATURDAY, by=maker)

    placed = [(one.title, (one.day - SATURDAY).days) for one in found.steps.order_by("place")]
    assert placed == [
        ("Mash", 0),
        ("Stir, 1 of 3", 1),
        ("Stir, 2 of 3", 3),
        ("Press", 4),
        ("Stir, 3 of 3", 5),
    ]
