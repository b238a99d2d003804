"""A plan without the step that makes a plant harmless is stopped, unless somebody says why."""

import pytest

from inventory import items
from inventory.refusals import Refusal
from planner import batches, making_safe, recipes
from planner.models import Batch, Plant
from planner.plants import load_catalogue
from planner.recipes import LineDraft, StepDraft
from tests.inventory.views.reading import text_of
from tests.planner.world import LITRE, SATURDAY


@pytest.fixture
def elderberry(maker):
    load_catalogue()
    item = items.add_item(by=maker, name="Elderberries", kind="foraged", base="mg")
    Plant.objects.filter(slug="elderberry").update(item=item)
    return item


def version_with(item, maker, notes=""):
    recipe = recipes.add_recipe(name=f"Elderberry {notes}"[:60], product="still", by=maker)
    steps = [StepDraft(key="1", title="Mash", notes=notes)]
    lines = [LineDraft(item=item, step="1", basis="per_litre", amount=300_000)]
    return recipes.add_version(recipe=recipe, steps=steps, lines=lines, by=maker)


def plan(version, maker, **more):
    return batches.plan(recipe_version=version, volume=5 * LITRE, start=SATURDAY, by=maker, **more)


def test_every_measure_that_is_missing_is_named(elderberry, maker):
    version = version_with(elderberry, maker)

    with pytest.raises(Refusal, match="heating it through is not in the plan") as stopped:
        plan(version, maker)

    assert "taking stalks, leaves and green parts off is not in the plan" in str(stopped.value)
    assert not Batch.objects.exists()


def test_a_plan_that_speaks_of_both_goes_on(elderberry, maker):
    version = version_with(elderberry, maker, "Strip the stalks, heat to 80 C for 20 minutes.")

    assert plan(version, maker).state == "set_down"
    assert making_safe.of_version(version) is None


def test_the_reason_for_leaving_it_out_is_kept(elderberry, maker):
    batch = plan(version_with(elderberry, maker), maker, left_out="bought as heated juice")

    assert batch.notes.endswith("bought as heated juice")
    assert "heating it through" in batch.notes


def test_the_form_asks_and_the_recipe_page_warns(client, elderberry, maker, settings):
    client.force_login(maker, backend=settings.AUTHENTICATION_BACKENDS[-1])
    version = version_with(elderberry, maker)
    page = text_of(client.get(version.get_absolute_url()))
    assert "Elderberry: heating it through is not in the plan" in page

    typed = {"recipe_version": version.pk, "volume": "5 L", "start": "12 Sep 2026"}
    answer = client.post("/batches/add/", typed)
    assert answer.status_code == 422
    assert "Stop: Elderberry" in text_of(answer)


@pytest.mark.parametrize(
    ("slug", "notes", "missing"),
    [
        ("damson", "", 1),
        ("damson", "Strain off the stones after a week.", 0),
        ("damson", "Add the wheat and leave it.", 1),
        ("apricot", "", 1),
        ("elderberry", "Sort the wheat, and leave it under a green lid.", 2),
        ("elderflower", "Strip the florets.", 0),
        ("pumpkin", "", 0),
        ("rowan", "", 1),
        ("rhubarb", "", 1),
        ("blackberry", "", 0),
    ],
)
def test_what_each_plant_wants_follows_from_the_catalogue(elderberry, slug, notes, missing):
    Plant.objects.filter(item=elderberry).update(item=None)
    Plant.objects.filter(slug=slug).update(item=elderberry)

    assert len(making_safe.verdict([elderberry.pk], [notes]).reasons) == missing
