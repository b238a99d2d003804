"""The must beside the recipe: it answers while it is typed, and is made to order."""

import pytest

from inventory import items, ledger
from planner import compositions, recipes
from planner.models import Composition, RecipeVersion
from tests.conftest import FIRST_MONDAY, KILO
from tests.inventory.views.reading import text_of
from tests.planner.views.test_recipes import LINE, MASH, new_recipe, typed

LIVE = {"HTTP_HX_REQUEST": "true"}


@pytest.fixture
def damsons(maker):
    item = items.add_item(by=maker, name="Damsons", kind="foraged", base="mg")
    compositions.describe(
        item=item,
        by=maker,
        packaged="damson",
        sugar=9_000,
        known="measured",
        source="refractometer",
    )
    return item


@pytest.fixture
def damson_must(as_maker, damsons, sugar):
    """The form of the worked example: 18 L, 5.4 kg of damsons, 3.4 kg of sugar."""
    recipe = new_recipe(as_maker)
    rows = [
        {"item": damsons.pk, "amount": "5.4 kg", "basis": "fixed", "step": "1", "is_fruit": "on"},
        {"item": sugar.pk, "amount": "3.4 kg", "basis": "fixed", "step": "1"},
    ]
    return recipe, typed([MASH], rows, volume="18 L")


def test_the_live_answer_is_the_balance_alone(as_maker, damson_must):
    recipe, form = damson_must

    answer = as_maker.post(f"/recipes/{recipe.pk}/reckon/", form, **LIVE)

    page = text_of(answer)
    assert "Start gravity 1.0828 worked out" in page
    assert "All the sugar 3886 g" in page
    assert "<html" not in answer.content.decode()
    assert not RecipeVersion.objects.exists()


def test_a_row_half_typed_is_passed_over(as_maker, damson_must):
    recipe, form = damson_must

    page = text_of(
        as_maker.post(f"/recipes/{recipe.pk}/reckon/", form | {"lines-1-amount": "3.4 k"}, **LIVE)
    )

    assert "All the sugar 486 g" in page


def test_without_scripts_the_same_answer_comes_in_the_page(as_maker, damson_must):
    recipe, form = damson_must

    page = as_maker.post(f"/recipes/{recipe.pk}/reckon/", form | {"make": ""}).content.decode()

    assert "1.0828" in page
    assert 'value="5.4 kg"' in page


def test_made_to_a_gravity_the_rows_change_and_can_be_taken_back(as_maker, damson_must, sugar):
    recipe, form = damson_must
    made = form | {"make": "gravity", "make_gravity": "1,090", "make_by": sugar.pk}

    answer = as_maker.post(f"/recipes/{recipe.pk}/reckon/", made)

    page = text_of(answer)
    assert "White sugar: 341 g more, 3741 g in all. Water: 212 mL less." in page
    assert "Start gravity 1.0900" in page
    assert answer.context["back"] == [("back-lines-1-amount", "3.4 kg")]
    again = as_maker.post(
        f"/recipes/{recipe.pk}/reckon/", form | {"make": "back", "back-lines-1-amount": "3.4 kg"}
    )
    assert "Start gravity 1.0828" in text_of(again)


def test_made_to_fit_half_of_it(as_maker, damson_must):
    recipe, form = damson_must

    page = text_of(
        as_maker.post(
            f"/recipes/{recipe.pk}/reckon/", form | {"make": "volume", "make_volume": "9 L"}
        )
    )

    assert "Damsons: 2.7 kg less, 2.7 kg in all." in page
    assert "All the sugar 1943 g" in page


def test_all_of_a_pick_on_the_shelf_is_used(as_maker, maker, damson_must, damsons):
    recipe, form = damson_must
    lot = ledger.receive(item=damsons, quantity=5 * KILO // 2, on=FIRST_MONDAY, by=maker)

    page = text_of(
        as_maker.post(f"/recipes/{recipe.pk}/reckon/", form | {"make": "pick", "make_pick": lot.pk})
    )

    assert "2.5 kg in all" in page


@pytest.mark.parametrize(
    ("make", "values", "words"),
    [
        ("gravity", {"make_gravity": ""}, "Say which gravity"),
        ("gravity", {"make_gravity": "2.5"}, "no gravity from 0.950"),
        ("gravity", {"make_gravity": "1.010", "make_by": "sugar"}, "already hold"),
        ("volume", {"make_volume": "-9 L"}, "below zero"),
        ("volume", {"make_volume": ""}, "how much it should be"),
        ("vessel", {}, "Choose a vessel"),
        ("pick", {"make_pick": "999"}, "Choose the lot"),
        ("gravity", {"make_gravity": "1.09", "volume": ""}, "for how much it is reckoned"),
    ],
)
def test_what_cannot_be_made_is_said_and_nothing_typed_is_lost(
    as_maker, damson_must, sugar, make, values, words
):
    recipe, form = damson_must
    named = {"make_by": sugar.pk} if values.get("make_by") == "sugar" else {}

    answer = as_maker.post(f"/recipes/{recipe.pk}/reckon/", form | {"make": make} | values | named)

    assert answer.status_code == 422
    assert words in text_of(answer)
    assert 'value="3.4 kg"' in answer.content.decode()


def test_sweet_with_live_yeast_in_a_closed_bottle_is_stopped_with_the_ways_out(
    as_maker, damson_must
):
    recipe, form = damson_must

    page = text_of(
        as_maker.post(
            f"/recipes/{recipe.pk}/reckon/", form | {"sweet": "sweet", "closing": "fizz"}, **LIVE
        )
    )

    assert "Stop: sweet, live yeast and a closed bottle do not go together" in page
    assert "Ways out: steady it with sulphite and sorbate" in page


def test_wishes_that_cannot_go_together_are_not_kept(as_maker, damson_must):
    recipe, form = damson_must

    answer = as_maker.post(
        f"/recipes/{recipe.pk}/versions/add/", form | {"sweet": "sweet", "closing": "fizz"}
    )

    assert answer.status_code == 422
    assert "do not go together" in text_of(answer)
    assert not RecipeVersion.objects.exists()


def test_the_design_is_kept_with_the_version_and_shown_with_it(as_maker, damson_must):
    recipe, form = damson_must
    wishes = {"gravity": "1.083", "bears_low": "12", "bears_high": "14", "sweet": "dry"}

    as_maker.post(f"/recipes/{recipe.pk}/versions/add/", form | wishes)

    version = RecipeVersion.objects.get()
    assert (version.volume, version.gravity, version.sweet) == (18_000_000, 10_830, "dry")
    assert (version.bears_low, version.bears_high) == (120, 140)
    page = text_of(as_maker.get(f"/recipes/{recipe.pk}/?volume=9+L"))
    assert "What comes of it, for 9 L" in page
    assert "Damsons 0 g on the shelf, 0 g free 5.4 kg" in page


def test_a_design_that_cannot_be_is_refused_at_its_box(as_maker, damson_must):
    recipe, form = damson_must

    answer = as_maker.post(
        f"/recipes/{recipe.pk}/versions/add/", form | {"bears_low": "15", "bears_high": "12"}
    )

    assert answer.status_code == 422
    assert "write the lower figure first" in text_of(answer)


def test_the_live_answer_asks_the_house_a_fixed_number_of_times(
    as_maker, maker, damson_must, django_assert_max_num_queries
):
    recipe, form = damson_must
    with django_assert_max_num_queries(12) as few:
        as_maker.post(f"/recipes/{recipe.pk}/reckon/", form, **LIVE)
    rows = [
        {
            "item": items.add_item(by=maker, name=f"Fruit {n}", kind="foraged", base="mg").pk,
            "amount": "1 kg",
            "basis": "fixed",
        }
        for n in range(20)
    ]

    with django_assert_max_num_queries(len(few)):
        as_maker.post(f"/recipes/{recipe.pk}/reckon/", typed([MASH], rows, volume="30 L"), **LIVE)


def test_what_is_in_a_fruit_is_typed_and_changed(as_maker, maker, damsons):
    page = as_maker.get(f"/compositions/{damsons.pk}/").content.decode()
    assert 'value="9' in page

    as_maker.post(
        f"/compositions/{damsons.pk}/",
        {"sugar": "9,5", "acid_as": "malic", "known": "measured", "version": "1"},
    )

    assert Composition.objects.get().sugar == 9_500


@pytest.mark.parametrize(
    ("box", "value"),
    [("sugar", "101"), ("sugar", "NaN"), ("water", "-1"), ("cake", "9000"), ("packaged", "moon")],
)
def test_what_is_in_no_fruit_is_refused(as_maker, maker, box, value):
    sloe = items.add_item(by=maker, name="Sloe", kind="foraged", base="mg")

    answer = as_maker.post(
        f"/compositions/{sloe.pk}/", {"acid_as": "malic", "known": "on_trust", box: value}
    )

    assert answer.status_code == 422
    assert not Composition.objects.exists()


def test_a_cordial_is_balanced_and_never_fermented(as_maker, maker, sugar):
    recipe = recipes.add_recipe(name="Meadowsweet cordial", product="cordial", by=maker)
    rows = [LINE | {"item": sugar.pk, "amount": "1 kg", "basis": "fixed"}]

    page = text_of(
        as_maker.post(f"/recipes/{recipe.pk}/reckon/", typed([MASH], rows, volume="2 L"), **LIVE)
    )

    assert "All the sugar 1 kg" in page
    assert "Strength to expect" not in page
    kept = as_maker.post(
        f"/recipes/{recipe.pk}/versions/add/", typed([MASH], [], volume="2 L", sweet="sweet")
    )
    assert kept.status_code == 302
