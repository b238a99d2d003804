"""No form and no direct POST puts fizz into glass that the gates stop."""

import pytest
from django.urls import get_resolver, reverse

from inventory.models import CellarLot
from planner.models import Bottling
from tests.planner.glass_world import BOTTLED, furnish, quiet_batch, sugar_lot


@pytest.fixture
def there(settings, house):
    settings.PRETEND_TODAY = BOTTLED
    return furnish()


@pytest.fixture
def as_maker(client, maker):
    client.force_login(maker)
    return client


def patterns(found, prefix=""):
    for pattern in found:
        if hasattr(pattern, "url_patterns"):
            yield from patterns(pattern.url_patterns, f"{prefix}{pattern.namespace or ''}:")
        else:
            yield f"{prefix}{pattern.name}".lstrip(":"), pattern


def writes_about(batch, step):
    """Every address that can take this batch or this step."""
    for name, pattern in patterns(get_resolver().url_patterns):
        keys = set(pattern.pattern.converters)
        if keys == {"pk"} and name.split(":")[1].startswith(("batch-", "step-")):
            pk = step.pk if ":step-" in f":{name.split(':')[1]}" else batch.pk
            yield reverse(name, kwargs={"pk": pk})
        elif not keys and name.endswith(("reading-add", "addition-add")):
            yield reverse(name)


def everything(batch, there, lot):
    """All that any of these forms could ask, filled in to go through."""
    counts = {f"count_{there[name].pk}": "3" for name in ("750", "500", "330")}
    return counts | {
        "batch": batch.pk, "on": "today", "without": "on", "remark": "all the same",
        "reason": "all the same", "filled": "1", "priming_lot": lot.pk, "title": "Bottle",
        "day": "today", "times": "1", "every": "1", "name": "X", "state": "in_glass",
    }  # fmt: skip


GETS = [
    "?closing=fizz&volumes=4&warmest_c=18+C&abv=11.3&aim=nothing_left&place={room}",
    "?closing=still&aim=nothing_left",
    "",
]
MOVING = ((0, 1.080), (100, 1.020), (103, 1.004))
NOT_READ = ()


@pytest.mark.parametrize("readings_of", [MOVING, NOT_READ], ids=["moving", "never read"])
def test_no_address_fills_what_is_not_still_twice(as_maker, there, sugar, maker, readings_of):
    batch = quiet_batch(maker, readings_of=readings_of)
    step, lot = batch.steps.get(title="Bottle with fizz"), sugar_lot(sugar, maker)
    room = there["sun room"].pk
    tried = 0

    for address in writes_about(batch, step):
        if address.endswith(("/drop/", "/pour/", "/part/")):
            continue
        for query in GETS:
            answer = as_maker.post(address + query.format(room=room), everything(batch, there, lot))
            assert answer.status_code < 500, address
            tried += 1

    assert tried >= 30
    assert not CellarLot.objects.exists()
    assert not Bottling.objects.exists()
    step.refresh_from_db()
    assert step.state != "done"


def test_no_query_fills_a_bottle_over_its_rating(as_maker, there, sugar, maker):
    batch, lot = quiet_batch(maker), sugar_lot(sugar, maker)
    page = reverse("planner:batch-bottle", kwargs={"pk": batch.pk})

    for volumes in ("2.5", "3", "4", "6.9"):
        query = GETS[0].replace("volumes=4", f"volumes={volumes}").format(room=there["sun room"].pk)
        typed = everything(batch, there, lot)
        answer = as_maker.post(page + query, typed)
        assert answer.status_code == 422, volumes

    assert not CellarLot.objects.exists()


def test_still_wine_is_not_given_fizz_once_it_is_steadied(as_maker, there, sugar, maker):
    batch, lot = quiet_batch(maker), sugar_lot(sugar, maker)
    batch.steps.filter(title="Press").update(title="Stabilise", state="done", done_on=BOTTLED)
    page = reverse("planner:batch-bottle", kwargs={"pk": batch.pk})
    query = f"?closing=fizz&volumes=2&warmest_c=18+C&abv=11.3&aim=biggest&lower=on&place={there['stairs'].pk}"

    answer = as_maker.post(page + query, everything(batch, there, lot))

    assert answer.status_code == 422
    assert "no yeast will make the fizz" in answer.content.decode()
    assert not CellarLot.objects.exists()
