"""Items, places and vessels: added, changed by two people at once, archived."""

import datetime as dt

import pytest

from inventory import activity, items, ledger, places, receipts, requirements, vessels
from inventory.editing import EditConflict
from inventory.models import Activity, Item, StoragePlace
from inventory.refusals import Refusal
from tests.conftest import FIRST_MONDAY, KILO, LITRE

MAY = dt.date(2026, 5, 4)


def test_an_item_is_added_with_an_activity(maker):
    item = items.add_item(name="Damsons", kind="foraged", base="mg", by=maker)

    assert (Item.objects.get(), Activity.objects.first().summary) == (item, "Added Damsons")


@pytest.mark.parametrize(
    ("values", "field"),
    [
        ({"name": "White sugar"}, "name"),
        ({"base": "stone"}, "base"),
        ({"lead_days": 731}, None),
        ({"pack": 0}, None),
        ({"name": "x" * 81}, "name"),
    ],
)
def test_what_the_table_would_refuse_is_refused_in_words(sugar, maker, values, field):
    with pytest.raises(Refusal) as refused:
        items.add_item(**{"name": "Damsons", "kind": "foraged", "base": "mg"} | values, by=maker)

    assert refused.value.field == field
    assert Item.objects.count() == 1


def test_the_second_of_two_editors_is_told_and_overwrites_nothing(sugar, maker):
    items.edit_item(sugar, version=1, values={"shop": "The mill"}, by=maker)

    with pytest.raises(EditConflict) as conflict:
        items.edit_item(sugar, version=1, values={"shop": "The fair"}, by=maker)

    assert conflict.value.current.shop == "The mill"


def in_a_lot(item, by):
    ledger.receive(item=item, quantity=KILO, on=FIRST_MONDAY, by=by)


def in_a_need(item, by):
    requirements.need(item=item, quantity=KILO, day=MAY, label="Jam", by=by)


def on_its_way(item, by):
    receipts.expect(item=item, quantity=KILO, due=MAY, by=by)


@pytest.mark.parametrize("use", [in_a_lot, in_a_need, on_its_way])
def test_how_an_item_is_counted_stays_once_it_is_in_use(sugar, maker, use):
    use(sugar, maker)

    with pytest.raises(Refusal, match="in use and stays counted by weight") as refused:
        items.edit_item(sugar, version=1, values={"base": "uL"}, by=maker)

    assert refused.value.field == "base"


def test_how_an_unused_item_is_counted_can_change(sugar, maker):
    edited = items.edit_item(sugar, version=1, values={"base": "uL"}, by=maker)

    assert edited.base == "uL"


@pytest.mark.parametrize("use", [in_a_need, on_its_way])
def test_an_item_that_is_needed_or_on_its_way_is_not_archived(sugar, maker, use):
    use(sugar, maker)

    with pytest.raises(Refusal, match="White sugar is still"):
        items.archive_item(item=sugar, by=maker)


def test_archiving_can_be_undone_and_done_only_once(sugar, maker):
    items.archive_item(item=sugar, by=maker)
    with pytest.raises(Refusal, match="archived already"):
        items.archive_item(item=sugar, by=maker)

    activity.undo(activity=Activity.objects.get(verb="archive"), by=maker)

    sugar.refresh_from_db()
    assert (sugar.archived, sugar.version) == (False, 3)


def test_a_place_is_added_and_changed(maker):
    place = places.add_place(name="Under the stairs", coolest_c=9, warmest_c=19, by=maker)

    places.edit_place(place, version=1, values={"warmest_c": 21}, by=maker)

    assert StoragePlace.objects.get().warmest_c == 21


@pytest.mark.parametrize(
    ("degrees", "says"),
    [
        ({"coolest_c": 20, "warmest_c": 10}, "rising order"),
        ({"warmest_c": 61}, "from -40 to 60"),
        ({"coolest_c": -41}, "from -40 to 60"),
    ],
)
def test_a_place_with_impossible_warmth_is_refused(maker, degrees, says):
    with pytest.raises(Refusal, match=says):
        places.add_place(name="Sun room", by=maker, **degrees)


def test_a_vessel_is_added_changed_and_refused_without_a_volume(maker):
    values = {"name": "Jar 9", "kind": "closed"}
    jar = vessels.add_vessel(**values, brimful=4_750_000, by=maker)

    vessels.edit_vessel(jar, version=1, values={"brimful": 5 * LITRE}, by=maker)

    assert (jar.brimful, jar.version) == (5_000_000, 2)
    with pytest.raises(Refusal, match="sensible positive amount"):
        vessels.add_vessel(**values | {"name": "Jar 10"}, brimful=0, by=maker)
