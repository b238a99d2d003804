"""Whatever is in the store is found by the beginnings of its words, on either database."""

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from inventory import ledger, search
from inventory.models import Item, Lot, StoragePlace
from inventory.search import Source, find
from tests.conftest import FIRST_MONDAY, KILO

TYPED = st.text(st.characters(codec=None), max_size=100)
SYNTAX = st.text(
    st.sampled_from("\"'*()^:+-&|!<>\\%_~{}[]NEARORNOTAND \x00\t🍒é\ud800"), max_size=100
)
# Letters of Europe; what a database of another age knows no letter of is no word to it.
NAMES = st.text(st.characters(categories=["Lu", "Ll", "Nd"], max_codepoint=0x17F), min_size=1)
on_any_text = settings(
    max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture]
)


def named(text, role="guest", **more):
    return {str(found.thing) for group in find(text, role=role, **more) for found in group.found}


def an_item(name, **more):
    return Item.objects.create(name=name, kind="foraged", base="mg", **more)


@pytest.fixture
def damsons(house):
    return an_item("Damsons", notes="From the hedge at Beck Bottom", shop="Nobody's")


@pytest.mark.parametrize(
    "text",
    ["dams", "Damson", "DAMSONS", "beck", "bottom dams", "nobody's", " hedge, beck! ", "fora"],
)
def test_an_item_is_found_by_the_beginning_of_any_of_its_words(text, damsons):
    assert named(text) == {"Damsons"}


@pytest.mark.parametrize("text", ["amsons", "dams zebra", "damsonwine", "mg"])
def test_every_word_must_begin_one_of_the_thing(text, damsons):
    assert named(text) == set()


@pytest.mark.parametrize(
    ("name", "text"),
    [
        ("Gelée de coings", "gelee"),
        ("Gelee", "GELÉE"),
        ("Ångström hops", "angstrom"),
        ("“Crab—apple” (½ kg)", "apple crab"),
        ("Чай", "чай"),
        ("Honey 🍯heather", "heather"),
        ("Sour cherry", "cherries"),
        ("Cherries", "cherry"),
        ("Quince", "quinces"),
        ("NEAR AND OR NOT", "near or not and"),
    ],
)
def test_accents_capitals_marks_and_plurals_do_not_matter(name, text, house):
    an_item(name)

    assert named(text) == {name}


def test_a_lot_is_found_by_its_mark_item_place_and_origin(damsons):
    shelf = StoragePlace.objects.create(name="Top shelf")
    lot = ledger.receive(
        item=damsons, quantity=KILO, on=FIRST_MONDAY, by=None, mark="DA-0012", place=shelf,
        origin="High Moor",
    )  # fmt: skip

    texts = ("da-0012", "0012", "top shelf", "moor damsons")

    assert [str(lot) in named(text) for text in texts] == [True] * 4
    assert find("0012", role="guest")[0].found[0].about == "on the shelf, Top shelf"


def test_an_empty_lot_says_that_nothing_is_left(damsons):
    lot = ledger.receive(item=damsons, quantity=KILO, on=FIRST_MONDAY, by=None, mark="DA-1")
    ledger.throw_out(lot=lot, on=FIRST_MONDAY, by=None, reason="mould")

    assert find("da-1", role="guest")[0].found[0].about == "nothing left"


def test_what_is_renamed_or_gone_is_found_as_it_now_is(damsons):
    lot = ledger.receive(item=damsons, quantity=KILO, on=FIRST_MONDAY, by=None, mark="X-1")
    Item.objects.filter(pk=damsons.pk).update(name="Bullaces", notes="")
    other = an_item("Damson stones")
    other.delete()

    assert named("damson") == set()
    assert named("bullace") == {"Bullaces", str(Lot.objects.get(pk=lot.pk))}


def test_a_hit_in_the_name_stands_before_one_in_the_notes(house):
    an_item("Muslin", notes="for sugar and honey")
    an_item("Sugar")
    an_item("Scales", notes="weighs sugar")

    (group,) = find("sugar", role="guest")

    assert [found.thing.name for found in group.found][0] == "Sugar"
    assert [found.named for found in group.found] == [True, False, False]


def test_a_hundred_lots_never_hide_the_one_item(damsons):
    lots = [
        Lot(item=damsons, mark=f"DA-{number:04}", received=FIRST_MONDAY) for number in range(100)
    ]
    Lot.objects.bulk_create(lots)

    found = {group.noun: group for group in find("damsons", role="guest")}

    assert [len(found[noun].found) for noun in ("Items", "Lots")] == [1, 49]
    assert found["Lots"].more == 51
    assert found["Lots"].found[0].thing.mark == "DA-0099"


def test_what_a_role_may_not_read_it_does_not_find(damsons):
    sources = [
        Source(
            noun="Items",
            rows=Item.objects.all,
            title=("name",),
            words=("notes",),
            about=str,
            read="picker",
        )
    ]

    finders = {role: named("dams", role, sources=sources) for role in ("guest", "picker", "keeper")}

    assert finders == {"guest": set(), "picker": {"Damsons"}, "keeper": {"Damsons"}}


def test_the_number_of_queries_does_not_grow_with_the_rows(damsons, django_assert_max_num_queries):
    for number in range(60):
        ledger.receive(
            item=damsons, quantity=KILO, on=FIRST_MONDAY, by=None, origin=f"row {number}"
        )

    with django_assert_max_num_queries(4 + 2):
        found = find("damsons", role="guest")

    assert sum(len(group.found) for group in found) == search.MOST_FOUND


@pytest.mark.parametrize("text", ["", "  ", '"*("', "🍒", "\x00", "'--", "%_%", "\ud800"])
def test_what_holds_no_word_finds_nothing(text, damsons):
    assert find(text, role="guest") == []


@given(TYPED | SYNTAX)
@on_any_text
def test_no_text_breaks_the_search(damsons, text):
    found = [one for group in find(text, role="guest") for one in group.found]

    assert len(found) <= search.MOST_FOUND


@given(NAMES)
@on_any_text
def test_whatever_has_a_name_is_found_by_it(damsons, name):
    Item.objects.filter(pk=damsons.pk).update(name=name[:80])

    assert named(name[:80]) == {name[:80]}
