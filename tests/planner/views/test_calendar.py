import re

import icalendar
import pytest

from planner.models import FeedToken
from tests.planner.world import step


@pytest.fixture
def address(as_maker):
    page = as_maker.post(
        "/calendar/feeds/add/", {"label": "my phone", "content": "steps", "alarm_hours": ""}
    ).content.decode()
    return re.search(r"http://127\.0\.0\.1:8000(/feed/[\w-]{43}\.ics)", page).group(1)


def test_a_feed_is_fetched_by_its_address_alone(address, batch, client):
    client.logout()

    response = client.get(address)

    events = icalendar.Calendar.from_ical(response.content).walk("VEVENT")
    assert response["Content-Type"] == "text/calendar; charset=utf-8"
    assert len(events) == 10


def test_two_fetches_are_byte_identical(address, batch, client):
    assert client.get(address).content == client.get(address).content


def test_an_unchanged_feed_answers_304_and_a_changed_one_in_full(address, batch, as_maker):
    mark = as_maker.get(address)["ETag"]

    assert as_maker.get(address, headers={"If-None-Match": mark}).status_code == 304
    as_maker.post(f"/steps/{step(batch, 'press').pk}/move/", {"day": "2026-09-21"})
    assert as_maker.get(address, headers={"If-None-Match": mark}).status_code == 200


def test_an_unknown_secret_is_an_absent_page(client, house):
    assert client.get("/feed/nobody-knows-it.ics").status_code == 404


def test_a_feed_is_not_to_be_kept_or_told_on(address, client):
    response = client.get(address)

    assert response["Cache-Control"] == "private, no-cache"
    assert response["Referrer-Policy"] == "no-referrer"
    assert response["X-Robots-Tag"] == "noindex"


def test_the_secret_is_kept_only_as_a_digest(address):
    secret = address.removeprefix("/feed/").removesuffix(".ics")

    assert secret not in str(FeedToken.objects.values())


def test_a_deleted_address_is_gone_at_once(address, as_maker):
    as_maker.post(f"/calendar/feeds/{FeedToken.objects.get().pk}/delete/")

    assert as_maker.get(address).status_code == 404


def test_nobody_deletes_the_address_of_another(address, client, keeper, settings):
    client.force_login(keeper, backend=settings.AUTHENTICATION_BACKENDS[-1])

    response = client.post(f"/calendar/feeds/{FeedToken.objects.get().pk}/delete/")

    assert response.status_code == 404


def test_a_feed_answers_only_reading(address, client):
    assert client.post(address).status_code == 405


def test_a_batch_is_downloaded_as_a_file(as_maker, batch):
    response = as_maker.get(f"/batches/{batch.pk}/calendar.ics")

    assert response["Content-Disposition"] == 'attachment; filename="damson-2026.ics"'
    assert len(icalendar.Calendar.from_ical(response.content).walk("VEVENT")) == 10
