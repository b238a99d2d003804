import pytest

from inventory import activity
from inventory.models import Activity
from inventory.refusals import Refusal
from planner import recipes
from planner.models import Recipe, RecipeVersion
from planner.recipes import LineDraft, StepDraft
from tests.planner.world import damson_batch, damson_version, sugar_line

MASH = StepDraft(key="mash", title="Mash", vessel_wanted="open")
PRESS = StepDraft(key="press", title="Press", after="mash", offset_days=7, weekend="weekend")


@pytest.fixture
def damson(maker):
    return recipes.add_recipe(name="Damson", product="still", by=maker)


def refused_version(recipe, maker, *, steps=(MASH,), lines=()):
    with pytest.raises(Refusal) as refusal:
        recipes.add_version(recipe=recipe, steps=list(steps), lines=list(lines), by=maker)
    return refusal.value


def test_versions_are_numbered_in_their_recipe(damson, maker):
    first = recipes.add_version(recipe=damson, steps=[MASH], lines=[], by=maker)
    second = recipes.add_version(
        recipe=damson, steps=[MASH], lines=[], by=maker, parent=first, reason="less sugar"
    )

    assert (first.number, second.number) == (1, 2)
    assert second.parent == first
    assert str(second) == "Damson, version 2"


def test_steps_keep_their_order_and_the_step_they_count_from(damson, maker):
    version = recipes.add_version(recipe=damson, steps=[MASH, PRESS], lines=[], by=maker)

    mash, press = version.steps.order_by("place")
    assert press.after == mash
    assert mash.after is None
    assert (press.offset_days, press.weekend) == (7, "weekend")


def test_version_reads_back_as_it_was_typed(damson, maker, sugar):
    line = LineDraft(item=sugar, step="2", basis="per_litre", amount=189_000)
    steps = [
        StepDraft(key="1", title="Mash", vessel_wanted="open"),
        StepDraft(key="2", title="Press", after="1", offset_days=7, least_days=5, most_days=9),
    ]
    version = recipes.add_version(recipe=damson, steps=steps, lines=[line], by=maker)

    assert recipes.drafts_of(version) == (steps, [line])


def test_version_without_steps_is_refused(damson, maker):
    assert "at least one step" in refused_version(damson, maker, steps=[]).message


def test_step_that_counts_from_a_later_one_is_refused(damson, maker):
    early = StepDraft(key="early", title="Early", after="mash")

    refusal = refused_version(damson, maker, steps=[early, MASH])

    assert refusal.message == "Early stands above Mash, from which it counts."
    assert refusal.field == "steps"


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"title": "  "}, "needs a title"),
        ({"weekend": "fridays"}, "no rule for weekends"),
        ({"vessel_wanted": "bathtub"}, "no kind of vessel"),
        ({"least_days": 9}, "rising order"),
    ],
)
def test_bad_step_is_refused(damson, maker, changed, words):
    step = StepDraft(**{"key": "mash", "title": "Mash", **changed})

    assert words in refused_version(damson, maker, steps=[step]).message


@pytest.mark.parametrize(
    ("changed", "words"),
    [
        ({"step": "nowhere"}, "at which step"),
        ({"basis": "per_person"}, "no way to reckon"),
        ({"amount": 0}, "more than nothing"),
        ({"amount": 10**15 + 1}, "more than nothing"),
        ({"basis": "per_kg_fruit"}, "no line is marked as fruit"),
        ({"basis": "per_kg_fruit", "is_fruit": True}, "cannot be reckoned per kg"),
    ],
)
def test_bad_line_is_refused(damson, maker, sugar, changed, words):
    line = LineDraft(
        **{"item": sugar, "step": "mash", "basis": "per_litre", "amount": 1, **changed}
    )

    refusal = refused_version(damson, maker, lines=[line])

    assert words in refusal.message
    assert refusal.message.startswith("White sugar:")
    assert not RecipeVersion.objects.exists()


def test_fruit_must_be_reckoned_by_weight(damson, maker, lemons):
    line = LineDraft(item=lemons, step="mash", basis="fixed", amount=3000, is_fruit=True)

    assert "by weight" in refused_version(damson, maker, lines=[line]).message


def test_unused_version_may_be_changed(maker, sugar):
    version = damson_version(maker, [sugar_line(sugar)])

    changed = recipes.change_version(version=version, steps=[MASH, PRESS], lines=[], by=maker)

    assert [step.title for step in changed.steps.order_by("place")] == ["Mash", "Press"]
    assert changed.lines.count() == 0
    assert changed.version == 2


def test_version_that_a_batch_used_is_never_changed(maker):
    version = damson_batch(maker).recipe_version

    with pytest.raises(Refusal, match="used by a batch"):
        recipes.change_version(version=version, steps=[MASH], lines=[], by=maker)

    assert version.steps.count() == 10


def test_second_recipe_of_the_same_name_is_refused(damson, maker):
    with pytest.raises(Refusal, match="already") as refusal:
        recipes.add_recipe(name=" damson ", product="still", by=maker)

    assert refusal.value.field == "name"


def test_putting_a_recipe_away_can_be_undone(damson, maker):
    recipes.archive(recipe=damson, by=maker)
    put_away = Recipe.objects.get(pk=damson.pk).archived

    activity.undo(activity=Activity.objects.first(), by=maker)

    assert put_away
    assert not Recipe.objects.get(pk=damson.pk).archived
