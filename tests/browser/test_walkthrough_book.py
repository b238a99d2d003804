"""The readings of walk-throughs 7 and 9 recorded on a phone, from the batch and from the bench."""

import datetime as dt

import pytest
from playwright.sync_api import expect

from planner import batches
from tests.browser.conftest import PHONE
from tests.planner.world import LITRE, damson_version


@pytest.fixture
def page(signed_in, live_server, maker):
    """On the page of a batch that began in January."""
    batch = batches.plan(
        recipe_version=damson_version(maker),
        volume=9 * LITRE,
        start=dt.date(2026, 1, 10),
        by=maker,
    )
    page = signed_in
    page.set_viewport_size(PHONE)
    page.goto(f"{live_server.url}{batch.get_absolute_url()}")
    return page


def record(page, reading, on, at=""):
    book = page.get_by_role("region", name="Its book")
    book.get_by_role("link", name="Record a reading").click()
    page.get_by_label("Reading", exact=True).fill(reading)
    page.get_by_label("Temperature of the sample").fill(at)
    page.get_by_label("On", exact=True).fill(on)
    page.get_by_role("button", name="Record it").click()
    expect(page.get_by_role("status")).to_contain_text("Read gravity")


def test_still_twice_is_said_after_two_equal_readings_three_days_apart(page):
    record(page, "1.080", "11 Jan 2026")
    record(page, "0.995", "1 Mar 2026")
    book = page.get_by_role("region", name="Its book")
    expect(book).to_contain_text("moving")

    record(page, "0,995", "4 Mar 2026")

    expect(book).to_contain_text("still twice")
    expect(book).to_contain_text("11.3 % vol")
    expect(page.get_by_role("img", name="Gravity of")).to_be_visible()


def test_a_hot_reading_is_corrected_on_the_bench_and_sent_to_the_batch(page, live_server):
    name = page.get_by_role("heading", level=1).inner_text().split(" set down")[0].strip()
    page.goto(f"{live_server.url}/bench/gravity-correction/")
    page.get_by_label("Reading", exact=True).fill("1.078")
    page.get_by_label("Temperature of the sample").fill("34 C")
    expect(page.get_by_role("region", name="Answer")).to_contain_text("1.0826")
    page.get_by_role("link", name="Record it as a reading of a batch").click()
    page.get_by_label("Batch").select_option(label=name)
    page.get_by_label("On", exact=True).fill("11 Jan 2026")
    page.get_by_role("button", name="Record it").click()

    expect(page.get_by_role("region", name="Its book")).to_contain_text("1.0826")
