import datetime as dt

import icalendar
import pytest

from inventory import activity, clock, household, requirements
from inventory.models import Activity
from inventory.refusals import Refusal
from planner import batches, feeds
from planner.models import FeedToken, Plant
from planner.plants import load_catalogue
from tests.planner.world import SATURDAY, damson_batch


def make(person, *, label="phone", content="steps", alarm_hours=None):
    return feeds.make_token(
        person=person, label=label, content=content, alarm_hours=alarm_hours, by=person
    )


def titles(token, house):
    text = feeds.body(token=token, house=house, today=clock.today())
    return [str(event["summary"]) for event in icalendar.Calendar.from_ical(text).walk("VEVENT")]


def test_secret_has_43_letters_and_only_its_digest_is_kept(maker):
    token, secret = make(maker)

    assert len(secret) == 43
    assert len(token.digest) == 64
    kept = "".join(map(str, FeedToken.objects.values_list())) + "".join(
        f"{row.summary}{row.link}{row.undo_data}" for row in Activity.objects.all()
    )
    assert secret not in kept
    assert token.digest not in "".join(str(row.undo_data) for row in Activity.objects.all())


def test_person_may_have_several_and_each_is_found_by_its_secret(maker):
    phone, phone_secret = make(maker)
    kitchen, kitchen_secret = make(maker, label="kitchen")

    assert feeds.find(phone_secret) == phone
    assert feeds.find(kitchen_secret) == kitchen
    assert feeds.find(phone_secret[:-1]) is None
    assert feeds.find("") is None


def test_revoked_address_is_gone(maker):
    token, secret = make(maker)

    feeds.revoke(token=token, by=maker)

    assert feeds.find(secret) is None
    assert not FeedToken.objects.exists()


def test_undoing_the_making_revokes_it(maker):
    _, secret = make(maker)

    activity.undo(activity=Activity.objects.first(), by=maker)

    assert feeds.find(secret) is None


@pytest.mark.parametrize(("role", "active"), [("maker", False), ("guest", True)])
def test_shut_door_or_a_fallen_role_ends_every_address(maker, keeper, role, active):
    _, secret = make(maker)

    household.change_access(person=maker, role=role, active=active, by=keeper)

    assert feeds.find(secret) is None
    assert not FeedToken.objects.exists()


def test_person_who_cannot_sign_in_is_not_served(maker):
    _, secret = make(maker)

    type(maker).objects.filter(pk=maker.pk).update(is_active=False)

    assert feeds.find(secret) is None


def test_day_of_last_use_is_written_once_a_day(maker, django_assert_num_queries, settings):
    token, secret = make(maker)
    feeds.find(secret)
    token.refresh_from_db()

    with django_assert_num_queries(1):
        feeds.find(secret)

    assert token.last_used == dt.date(2026, 4, 6)
    settings.PRETEND_TODAY = dt.date(2026, 4, 7)
    feeds.find(secret)
    token.refresh_from_db()
    assert token.last_used == dt.date(2026, 4, 7)


@pytest.mark.parametrize(
    ("changed", "field"),
    [
        ({"label": "  "}, "label"),
        ({"content": "tastings"}, "content"),
        ({"alarm_hours": 169}, "alarm_hours"),
        ({"alarm_hours": -1}, "alarm_hours"),
    ],
)
def test_bad_wishes_are_refused(maker, changed, field):
    with pytest.raises(Refusal) as refusal:
        make(maker, **changed)

    assert refusal.value.field == field
    assert not FeedToken.objects.exists()


def test_steps_feed_tells_of_all_batches(maker, house):
    first = damson_batch(maker)
    batches.plan(recipe_version=first.recipe_version, volume=1, start=SATURDAY, by=maker)
    token, _ = make(maker)

    found = titles(token, house)

    assert len(found) == 20
    assert {"Damson 2026: press", "Damson 2026 (2): press"} <= set(found)


def test_windows_feed_tells_of_the_plants_the_house_keeps(maker, house, sugar):
    load_catalogue()
    token, _ = make(maker, content="windows")
    of_all = titles(token, house)

    Plant.objects.filter(slug="damson").update(item=sugar)

    assert len(of_all) > 88
    assert set(titles(token, house)) == {"Damson: fruit"}


def test_orders_feed_tells_by_when_to_order_what(maker, house, yeast, lemons):
    token, _ = make(maker, content="orders")
    later, soon = dt.date(2026, 5, 4), dt.date(2026, 4, 8)
    requirements.need(item=yeast, quantity=1000, day=later, label="Gorse: yeast", by=maker)
    requirements.need(item=lemons, quantity=3000, day=soon, label="Gorse: mash", by=maker)

    text = feeds.body(token=token, house=house, today=clock.today())

    lemon, sachet = icalendar.Calendar.from_ical(text).walk("VEVENT")
    assert lemon["summary"] == "Order 3 lemons of Lemons (overdue)"
    assert lemon["dtstart"].dt == dt.date(2026, 4, 1)
    assert sachet["summary"] == "Order 2 sachets of Wine yeast"
    assert sachet["dtstart"].dt == dt.date(2026, 4, 27)
    assert sachet["description"] == "The brew cupboard\nGorse: yeast"


def test_feed_is_the_same_bytes_until_something_happens(maker, house):
    damson_batch(maker)
    token, _ = make(maker, alarm_hours=12)
    today = clock.today()

    first = feeds.body(token=token, house=house, today=today)
    mark = feeds.etag(token, today)

    assert feeds.body(token=token, house=house, today=today) == first
    assert feeds.etag(token, today) == mark


def test_two_addresses_have_calendars_of_their_own(maker, house):
    one, _ = make(maker)
    other, _ = make(maker, label="kitchen")
    today = clock.today()

    assert feeds.body(token=one, house=house, today=today) != feeds.body(
        token=other, house=house, today=today
    )
    assert feeds.etag(one, today) != feeds.etag(other, today)
