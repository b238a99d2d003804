"""Honey is taken for a step where the sugar is short; a jar is weighed with water; a step soils its bucket."""

import pytest

from inventory import activity, ledger, substitutes
from inventory.models import Activity, Item, Requirement
from inventory.refusals import Refusal
from planner import batches, instead, weighing
from planner.told import Told
from tests.conftest import KILO
from tests.planner.world import SATURDAY, damson_batch, step, sugar_line


@pytest.fixture
def honey(house, maker):
    item = Item.objects.create(name="Honey", kind="ingredient", base="mg")
    ledger.receive(item=item, quantity=6 * KILO, on=SATURDAY, by=maker)
    return item


@pytest.fixture
def batch(settings, maker, sugar, house):
    settings.PRETEND_TODAY = SATURDAY
    return damson_batch(maker, [sugar_line(sugar)])


def test_what_stands_in_is_offered_swapped_used_and_taken_back(batch, sugar, honey, maker):
    row = substitutes.name(item=sugar, other=honey, factor=1300, by=maker)
    mash = step(batch, "mash")
    [offer] = instead.offers(mash)
    assert (offer.amount, offer.is_enough) == (4_422_600, True)

    instead.swap(need=offer.need, substitute=row, by=maker)
    assert instead.offers(mash) == []
    activity.undo(activity=Activity.objects.get(undo="instead.swap"), by=maker)
    assert [need.item for need in Requirement.objects.filter(state="open")] == [sugar]

    instead.swap(need=offer.need, substitute=row, by=maker)
    batches.complete_step(step=mash, on=SATURDAY, by=maker)
    assert ledger.stock([honey.pk])[honey.pk] == 6 * KILO - 4_422_600


def test_another_items_substitute_is_refused(batch, sugar, honey, yeast, maker):
    row = substitutes.name(item=yeast, other=honey, factor=1000, by=maker)

    with pytest.raises(Refusal, match="does not stand in"):
        instead.swap(need=Requirement.objects.get(), substitute=row, by=maker)


def test_the_step_page_offers_it_and_takes_it(client, batch, sugar, honey, maker):
    client.force_login(maker)
    row = substitutes.name(item=sugar, other=honey, factor=1300, by=maker)
    page = f"/steps/{step(batch, 'mash').pk}/complete/"
    assert "Instead of what is short" in client.get(page).content.decode()

    need = Requirement.objects.get(state="open")
    client.post(f"/requirements/{need.pk}/instead/", {"substitute": row.pk})

    assert Requirement.objects.get(state="open").item == honey
    assert client.post(f"/requirements/{need.pk}/instead/", {"substitute": "x"}).status_code == 404


def test_a_jar_is_measured_by_the_water_it_holds(jar, maker):
    # 4.75 kg of water at 20 degrees: 4.75 / 0.99820 L by OIML R22.
    found = weighing.brimful(empty=1_200_000, full=5_950_000, water_c=20.0)

    assert found == pytest.approx(4_758_600, abs=300)
    weighing.weigh(vessel=jar, empty=1_200_000, full=5_950_000, water_c=20.0, by=maker)
    jar.refresh_from_db()
    assert jar.brimful == found


@pytest.mark.parametrize(
    ("full", "warm", "field"), [(1_200_000, 20.0, "full"), (5_950_000, 120.0, "water_c")]
)
def test_weights_that_cannot_be_are_refused(full, warm, field):
    with pytest.raises(Refusal) as refused:
        weighing.brimful(empty=1_200_000, full=full, water_c=warm)

    assert refused.value.field == field


def test_a_bucket_that_was_emptied_is_to_be_washed(settings, maker, bucket, jar, house):
    settings.PRETEND_TODAY = SATURDAY
    batch = damson_batch(maker, vessels=[bucket, jar])
    batches.complete_step(step=step(batch, "mash"), on=SATURDAY, by=maker)
    batches.complete_step(step=step(batch, "press"), on=SATURDAY, by=maker, told=Told())
    bucket.refresh_from_db()
    assert bucket.to_wash

    activity.undo(activity=Activity.objects.filter(verb="complete").latest("pk"), by=maker)
    bucket.refresh_from_db()
    assert not bucket.to_wash
