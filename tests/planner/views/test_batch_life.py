"""Volume, parts, pouring, another step and the trace through their pages."""

import datetime as dt

import pytest

from inventory import activity, ledger
from inventory.models import Activity, Item
from planner import additions, batches, parting, steps, trace
from planner.models import Batch, Step, Transfer
from tests.conftest import KILO, PIECE
from tests.inventory.views.reading import text_of
from tests.planner.world import AT_20, LITRE, SATURDAY, step

LATER = SATURDAY + dt.timedelta(days=40)


@pytest.fixture(autouse=True)
def today(settings, house):
    settings.PRETEND_TODAY = LATER


@pytest.fixture
def begun(batch, maker, sugar, yeast):
    sugar_lot = ledger.receive(item=sugar, quantity=4 * KILO, on=SATURDAY, by=maker, cost=460)
    ledger.receive(item=yeast, quantity=2 * PIECE, on=SATURDAY, by=maker)
    steps.complete_step(step=step(batch, "mash"), on=SATURDAY, by=maker)
    steps.complete_step(step=step(batch, "enzyme and yeast"), on=SATURDAY, by=maker, told=AT_20)
    additions.add(
        batch=batch, lot=sugar_lot, amount=KILO // 2, on=SATURDAY, by=maker, purpose="sugar"
    )
    return batch


def test_volume_is_written_line_by_line_on_one_page(as_maker, batch):
    page = f"/batches/{batch.pk}/volume/"
    for cause, amount in (("measured", "17.4 L"), ("sample", "150 mL"), ("lees", "1 L")):
        answer = as_maker.post(page, {"cause": cause, "amount": amount, "on": "today"})
        assert answer.status_code == 302

    said = text_of(as_maker.get(page))
    assert "16.25 L worked out" in said
    assert "left on the lees -1 L 16.25 L" in said


@pytest.mark.parametrize("amount", ["-1 L", "nan", "0", "20000000 L", "1,234", "2 kg"])
def test_a_volume_that_is_none_is_refused_at_its_box(as_maker, batch, amount):
    page = f"/batches/{batch.pk}/volume/"

    answer = as_maker.post(page, {"cause": "lees", "amount": amount, "on": "today"})

    assert answer.status_code == 422
    assert amount in answer.content.decode()
    assert not Transfer.objects.exists()


def test_parting_leads_to_the_new_batch_which_names_the_old(as_maker, begun):
    answer = as_maker.post(
        f"/batches/{begun.pk}/part/", {"amount": "6 L", "name": "Damson dry", "on": "today"}
    )

    child = Batch.objects.get(name="Damson dry")
    assert answer["Location"] == child.get_absolute_url()
    assert f"Parted off {begun}" in text_of(as_maker.get(child.get_absolute_url()))


def test_pouring_all_of_it_closes_the_first(as_maker, begun, maker):
    other = batches.plan(
        recipe_version=begun.recipe_version, volume=9 * LITRE, start=SATURDAY, by=maker
    )

    as_maker.post(f"/batches/{begun.pk}/pour/", {"target": other.pk, "amount": "", "on": "today"})

    begun.refresh_from_db()
    assert begun.state == "joined"
    # 18 L with 500 g of sugar stirred in, which takes 0.31 L, and 9 L.
    assert "27.31 L worked out" in text_of(as_maker.get(other.get_absolute_url()))


def test_a_step_repeated_daily_stands_among_the_others_by_its_day(as_maker, batch):
    typed = {"title": "Stir", "day": "13 Sep 2026", "times": "5", "every": "1", "notes": ""}

    as_maker.post(f"/batches/{batch.pk}/steps/add/", typed)

    titles = list(Step.objects.order_by("place").values_list("title", flat=True))
    assert titles[:8] == [
        "mash",
        "enzyme and yeast",
        *(f"Stir, {number} of 5" for number in range(1, 6)),
        "press",
    ]


def test_added_steps_are_taken_back_together(as_maker, batch, maker):
    typed = {"title": "Stir", "day": "13 Sep 2026", "times": "2", "every": "1"}
    as_maker.post(f"/batches/{batch.pk}/steps/add/", typed)

    activity.undo(activity=Activity.objects.get(verb="add step"), by=maker)

    assert set(Step.objects.filter(title__startswith="Stir").values_list("state", flat=True)) == {
        "skipped"
    }


@pytest.mark.parametrize(
    "typed", [{"times": "61"}, {"times": "0"}, {"every": "91"}, {"day": "31 Feb"}, {"title": " "}]
)
def test_a_step_that_cannot_be_is_refused(as_maker, batch, typed):
    usual = {"title": "Stir", "day": "13 Sep 2026", "times": "2", "every": "1"}

    answer = as_maker.post(f"/batches/{batch.pk}/steps/add/", usual | typed)

    assert answer.status_code == 422
    assert Step.objects.count() == 10


def test_what_went_in_and_what_it_cost(as_maker, begun, sugar):
    used = trace.of_batch(begun)

    # 3.402 kg by the recipe and 500 g added, of 4 kg for 4.60; a sachet of two for 1.90.
    assert [line.cost for line in used] == [391, 95, 58]
    assert trace.cost_of(used) == trace.Cost(544, 0, 1)
    assert "5.44 worked out" in text_of(as_maker.get(f"/batches/{begun.pk}/trace/"))


def test_what_was_taken_back_costs_nothing(begun, maker):
    done = Activity.objects.get(undo="additions.add")
    activity.undo(activity=done, by=maker)

    assert len(trace.of_batch(begun)) == 2


def test_a_bad_lot_is_followed_into_parts_and_blends(as_maker, begun, maker, sugar):
    child = parting.part(batch=begun, amount=6 * LITRE, name="Dry", on=LATER, by=maker)
    other = batches.plan(
        recipe_version=begun.recipe_version, volume=9 * LITRE, start=SATURDAY, by=maker
    )
    parting.join(source=child, target=other, on=LATER, by=maker)
    lot = sugar.lots.get()

    found = trace.of_lot(lot)

    assert [one.batch for one in found] == [begun, child, other]
    assert f"out of {child}" in text_of(as_maker.get(f"/lots/{lot.pk}/trace/"))


def test_a_lot_in_no_batch_says_so(as_maker, maker, house):
    item = Item.objects.create(name="Honey", kind="ingredient", base="mg")
    lot = ledger.receive(item=item, quantity=KILO, on=SATURDAY, by=maker)

    assert "No batch holds anything of it" in text_of(as_maker.get(f"/lots/{lot.pk}/trace/"))
