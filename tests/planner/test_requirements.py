import pytest

from inventory.models import Item
from planner import recipes
from planner.recipes import LineDraft, StepDraft
from planner.requirements import explode

LITRE = 1_000_000
MASH = StepDraft(key="mash", title="Mash")


@pytest.fixture
def damsons(house):
    return Item.objects.create(name="Damsons", kind="foraged", base="mg")


@pytest.fixture
def version_of(maker):
    def write(*lines):
        recipe = recipes.add_recipe(name="Damson", product="still", by=maker)
        return recipes.add_version(recipe=recipe, steps=[MASH], lines=list(lines), by=maker)

    return write


def line(item, basis, amount, *, is_fruit=False):
    return LineDraft(item=item, step="mash", basis=basis, amount=amount, is_fruit=is_fruit)


def quantities(version, volume):
    return {line.item.name: quantity for line, quantity in explode(version, volume)}


def test_damson_wine_of_eighteen_litres_and_of_nine(version_of, damsons, sugar, yeast):
    version = version_of(
        line(damsons, "per_litre", 300_000, is_fruit=True),
        line(sugar, "per_litre", 189_000),
        line(yeast, "fixed", 1000),
    )

    assert quantities(version, 18 * LITRE) == {
        "Damsons": 5_400_000,
        "White sugar": 3_402_000,
        "Wine yeast": 1000,
    }
    assert quantities(version, 9 * LITRE)["Damsons"] == 2_700_000
    assert quantities(version, 9 * LITRE)["Wine yeast"] == 1000


def test_amount_per_kilo_follows_the_fruit_of_all_lines(version_of, damsons, sugar, house):
    sloes = Item.objects.create(name="Sloes", kind="foraged", base="mg")
    version = version_of(
        line(damsons, "per_litre", 300_000, is_fruit=True),
        line(sloes, "fixed", 600_000, is_fruit=True),
        line(sugar, "per_kg_fruit", 250_000),
    )

    # 18 L x 300 g + 600 g = 6.0 kg of fruit.
    assert quantities(version, 18 * LITRE)["White sugar"] == 1_500_000


def test_pieces_are_rounded_up_to_whole_ones(version_of, lemons):
    version = version_of(line(lemons, "per_litre", 250))

    assert quantities(version, 4 * LITRE)["Lemons"] == 1000
    assert quantities(version, 4 * LITRE + 1)["Lemons"] == 2000
    assert quantities(version, 18 * LITRE)["Lemons"] == 5000


def test_quantity_is_exact_where_a_float_would_ask_for_more(version_of, sugar):
    # 100 x 1.1 is 110.00000000000001 as a float, which would round up to 111 mg.
    version = version_of(line(sugar, "per_litre", 100))

    assert quantities(version, 1_100_000)["White sugar"] == 110


def test_largest_amounts_stay_exact(version_of, sugar):
    version = version_of(line(sugar, "per_litre", 999_999_999_999))

    assert quantities(version, 1_000_001)["White sugar"] == 1_000_000_999_999


def test_parts_of_a_milligram_are_rounded_up(version_of, sugar):
    version = version_of(line(sugar, "per_litre", 1))

    assert quantities(version, 1)["White sugar"] == 1
    assert quantities(version, 1_000_001)["White sugar"] == 2


def test_exploding_takes_one_query(version_of, damsons, sugar, django_assert_num_queries):
    version = version_of(
        line(damsons, "per_litre", 300_000, is_fruit=True), line(sugar, "per_litre", 189_000)
    )

    with django_assert_num_queries(1):
        explode(version, 18 * LITRE)
