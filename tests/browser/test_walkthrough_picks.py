"""Walk-through 2 on a phone: weigh two tubs, sort, split; nothing is given twice."""

import re
import time

import pytest
from playwright.sync_api import expect

from inventory import items
from planner import recipes
from planner.models import Plant
from planner.recipes import LineDraft, StepDraft
from tests.browser.conftest import PHONE


@pytest.fixture
def bramble(maker):
    item = items.add_item(by=maker, name="Bramble", kind="foraged", base="mg")
    return Plant.objects.create(
        slug="bramble", common_name="Bramble", item=item, room_days="1", fridge_days="3"
    )


def put_by(page, amount, purpose):
    page.get_by_label("How much", exact=True).fill(amount)
    page.get_by_label("Meant for").fill(purpose)
    page.get_by_role("button", name="Put it by").click()


def test_two_tubs_of_bramble_become_wine_and_cordial(signed_in, live_server, bramble):
    page = signed_in
    page.set_viewport_size(PHONE)
    page.goto(f"{live_server.url}{bramble.get_absolute_url()}")
    page.get_by_role("link", name="Weigh a pick").click()
    for label, text in (
        ("Tub 1 with the pick", "1386 g"),
        ("Tub 1 empty", "74 g"),
        ("Tub 2 with the pick", "2410 g"),
        ("Tub 2 empty", "385 g"),
    ):
        page.get_by_label(label).fill(text)
    page.get_by_role("button", name="Weigh it").click()
    expect(page.get_by_role("status")).to_contain_text("Picked 3337 g of Bramble")

    page.get_by_label("Left after sorting").fill("3204")
    page.get_by_role("button", name="That is what is left").click()
    expect(page.get_by_role("status")).to_contain_text("3204 g left, 133 g lost")
    put_by(page, "2400", "wine")
    expect(page.get_by_role("status")).to_contain_text("put by for wine")
    put_by(page, "900", "cordial")
    expect(page.get_by_role("alert")).to_contain_text("96 g short")
    put_by(page, "804", "cordial")

    expect(page.get_by_role("status")).to_contain_text("put by for cordial")
    expect(page.get_by_role("main")).to_contain_text(re.compile(r"Left to put by\s+0 g"))
    expect(page.get_by_role("link", name=re.compile("Bramble, BR-"))).to_have_count(2)


def test_from_a_weighed_tub_to_a_batch_in_less_than_a_minute(
    signed_in, live_server, bramble, sugar, maker
):
    recipe = recipes.add_recipe(name="Bramble wine", product="still", by=maker)
    lines = [
        LineDraft(item=bramble.item, step="1", basis="per_litre", amount=400_000, is_fruit=True)
    ]
    steps = [StepDraft(key="1", title="Mash"), StepDraft(key="2", title="Bottle", offset_days=90)]
    recipes.add_version(recipe=recipe, steps=steps, lines=lines, by=maker)
    page = signed_in
    page.set_viewport_size(PHONE)
    page.goto(f"{live_server.url}/picks/add/?plant=bramble")
    begun = time.monotonic()

    page.get_by_label("Tub 1 with the pick").fill("2.5 kg")
    page.get_by_label("Tub 1 empty").fill("200 g")
    page.get_by_role("button", name="Weigh it").click()
    put_by(page, "2.3 kg", "wine")
    page.get_by_role("link", name="what can it become?").click()
    expect(page.get_by_role("heading", name="Bramble wine: 5.75 L")).to_be_visible()
    page.get_by_role("link", name="Set it down").click()
    page.get_by_role("button", name="Set it down").click()

    expect(page.get_by_role("heading", name=re.compile("Bramble wine 20"))).to_be_visible()
    expect(page.get_by_role("main")).to_contain_text("spoken for")
    assert time.monotonic() - begun < 60
