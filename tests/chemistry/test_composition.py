import pytest

from planner.chemistry.composition import composition_of, compositions, sugar_of_fruit


def test_the_whole_table_is_there_and_has_sources():
    table = compositions()

    assert len(table) == 30
    assert all(row.source for row in table.values())


def test_print_is_taken_on_trust_and_never_called_measured():
    kinds = {
        figure.known
        for row in compositions().values()
        for figure in (row.sugar, row.acid, row.water, row.ph)
    }

    assert kinds == {"taken on trust", "not known"}


def test_memory_is_named_in_the_source():
    remembered = [row for row in compositions().values() if not row.read]

    assert {row.item for row in remembered} == {"damson", "sloe", "birch sap"}
    assert all("from memory" in row.source for row in remembered)


def test_sugar_that_print_does_not_list_is_not_known_but_bounded():
    gooseberry = composition_of("gooseberry")

    assert gooseberry.sugar.value is None
    assert gooseberry.sugar.high == 10.18
    assert gooseberry.acid.known == "not known"


def test_disagreement_in_print_shows_as_a_range():
    blackberry = sugar_of_fruit("blackberry")

    assert (blackberry.value, blackberry.low, blackberry.high) == (4.88, 2.68, 7.4)


def test_a_fruit_nobody_printed_is_not_known():
    assert sugar_of_fruit("hawthorn").known == "not known"
    assert composition_of("hawthorn") is None


def test_every_acid_has_a_name_to_count_it_by():
    missing = [row.item for row in compositions().values() if row.acid.is_known and not row.acid_as]

    assert missing == []


@pytest.mark.parametrize("item", ["blackberry", "plum", "rhubarb", "honey"])
def test_water_and_sugar_fit_in_a_hundred_grams(item):
    row = composition_of(item)

    assert 60 < row.water.value + row.sugar.value <= 100
