from planner import recipes
from planner.models import Recipe, RecipeVersion
from tests.planner.world import DAMSON_STEPS, damson_version, sugar_line

STEP = {
    "title": "", "offset_days": "", "after": "", "weekend": "any", "least_days": "",
    "most_days": "", "vessel_wanted": "", "notes": "",
}  # fmt: skip
LINE = {"item": "", "amount": "", "basis": "per_litre", "step": "", "note": ""}


def typed(steps, lines=(), **more):
    values = {"reason": "less sugar"}
    for prefix, blank, rows in (("steps", STEP, steps), ("lines", LINE, lines)):
        values[f"{prefix}-TOTAL_FORMS"] = len(rows)
        values[f"{prefix}-INITIAL_FORMS"] = 0
        for n, row in enumerate(rows):
            values |= {f"{prefix}-{n}-{name}": value for name, value in (blank | row).items()}
    return values | more


MASH = {"title": "Mash", "offset_days": "0"}
PRESS = {"title": "Press", "offset_days": "7", "after": "1"}


def new_recipe(client):
    client.post("/recipes/add/", {"name": "Damson", "product": "still"})
    return Recipe.objects.get()


def test_a_recipe_is_written_with_steps_and_lines(as_maker, sugar):
    recipe = new_recipe(as_maker)
    line = {"item": sugar.pk, "amount": "189 g", "step": "1"}

    response = as_maker.post(
        f"/recipes/{recipe.pk}/versions/add/", typed([MASH, PRESS, STEP], [line, LINE])
    )

    version = RecipeVersion.objects.get()
    assert response.status_code == 302
    assert [step.title for step in version.steps.all()] == ["Mash", "Press"]
    assert version.steps.last().after.title == "Mash"
    assert version.lines.get().amount == 189_000


def test_a_version_without_steps_is_refused(as_maker):
    recipe = new_recipe(as_maker)

    response = as_maker.post(f"/recipes/{recipe.pk}/versions/add/", typed([STEP]))

    assert response.status_code == 422
    assert b"at least one step" in response.content


def test_an_amount_of_the_wrong_kind_is_refused_at_its_row(as_maker, yeast):
    recipe = new_recipe(as_maker)
    line = {"item": yeast.pk, "amount": "3 L", "step": "1"}

    response = as_maker.post(f"/recipes/{recipe.pk}/versions/add/", typed([MASH], [line]))

    assert response.status_code == 422
    assert b"3 L" in response.content
    assert not RecipeVersion.objects.exists()


def test_more_rows_keeps_what_was_typed_and_checks_nothing(as_maker):
    recipe = new_recipe(as_maker)
    odd = {"title": "Mash", "offset_days": "soon"}

    response = as_maker.post(f"/recipes/{recipe.pk}/versions/add/", typed([odd], [], more="rows"))

    assert response.status_code == 200
    assert b"soon" in response.content
    assert response.content.count(b"<legend>Step") == 4


def test_the_next_version_begins_from_the_last_one(as_maker, maker):
    version = damson_version(maker)

    page = as_maker.get(f"/recipes/{version.recipe_id}/versions/add/?from=1").content.decode()

    assert "stabilise" in page
    assert "Begun from version 1" in page


def test_a_used_version_stays_as_it_is(as_maker, batch):
    recipe = batch.recipe_version.recipe

    as_maker.post(f"/recipes/{recipe.pk}/versions/add/", typed([MASH]))

    assert recipe.versions.count() == 2
    assert batch.recipe_version.steps.count() == 10


def test_a_version_takes_the_same_queries_with_many_lines(
    as_maker, maker, sugar, django_assert_num_queries
):
    few = damson_version(maker, [sugar_line(sugar)])
    many = recipes.add_recipe(name="Much", product="still", by=maker)
    recipes.add_version(recipe=many, steps=DAMSON_STEPS, lines=[sugar_line(sugar)] * 20, by=maker)

    for recipe in (few.recipe, many):
        with django_assert_num_queries(11):
            as_maker.get(f"/recipes/{recipe.pk}/versions/add/")
