"""What a label tells of wine that came out of another batch."""

import datetime as dt

import pytest

from inventory import ledger
from inventory.models import Item
from planner import additions, batches, book, bottled_drink, parting, trace, volumes
from planner.bottling_plan import Wish
from tests.conftest import KILO
from tests.planner.world import LITRE, SATURDAY, damson_batch

LATER = SATURDAY + dt.timedelta(days=40)


@pytest.fixture
def today(settings, house):
    settings.PRETEND_TODAY = LATER


@pytest.fixture
def batch(today, maker):
    return damson_batch(maker)


@pytest.fixture
def honeyed(batch, maker):
    """Some honey and 10 mg of sulphite in 18 L, far below what a label must name."""
    for name, amount, purpose in (
        ("Honey", KILO, "sugar"),
        ("Potassium metabisulphite", 10, "sulphite"),
    ):
        item = Item.objects.create(name=name, kind="ingredient", base="mg")
        lot = ledger.receive(item=item, quantity=KILO, on=LATER, by=maker)
        additions.add(batch=batch, lot=lot, amount=amount, on=LATER, by=maker, purpose=purpose)
    return batch


def drink(batch):
    wish = Wish(is_fizzy=False)
    return bottled_drink.of_batch(batch, book.of_batch(batch), on=LATER, wish=wish, wine=None)


def test_a_little_sulphite_in_a_batch_of_its_own_is_not_named(honeyed):
    assert "Honey" in drink(honeyed).contains
    assert drink(honeyed).warnings == []


def test_what_was_poured_in_brings_its_contents_and_its_sulphite(honeyed, maker):
    other = batches.plan(
        recipe_version=honeyed.recipe_version, volume=9 * LITRE, start=SATURDAY, by=maker
    )
    assert drink(other).contains == ""
    volumes.pour(source=honeyed, target=other, amount=2 * LITRE, on=LATER, by=maker)

    assert "Honey" in drink(other).contains
    assert drink(other).warnings == ["Contains sulphites."]
    assert trace.sources_of(other) == [other.pk, honeyed.pk]


def test_a_part_holds_what_the_whole_held(honeyed, maker):
    child = parting.part(batch=honeyed, amount=6 * LITRE, name="Dry", on=LATER, by=maker)

    assert "Honey" in drink(child).contains
    assert drink(child).warnings == ["Contains sulphites."]
    assert drink(honeyed).warnings == []
