"""Walk-through 4 on a phone: design the must, make it heavier, scale it, and wish too much."""

import re

import pytest
from playwright.sync_api import expect

from tests.browser.conftest import PHONE


def new_item(page, server, name, kind):
    page.goto(f"{server.url}/items/add/")
    page.get_by_label("Name", exact=True).fill(name)
    page.get_by_label("Kind").select_option(label=kind)
    page.get_by_role("radio", name="by weight (g, kg)").check()
    page.get_by_role("button", name="Add it").click()
    expect(page.get_by_role("heading", name=name, level=1)).to_be_visible()
    return int(re.search(r"/items/(\d+)/", page.url)[1])


@pytest.fixture
def damson_must(signed_in, live_server):
    """The rows of the walk-through, typed on a phone; damsons at 9 % sugar, as measured."""
    page = signed_in
    page.set_viewport_size(PHONE)
    damsons = new_item(page, live_server, "Damsons", "foraged or grown")
    new_item(page, live_server, "White sugar", "ingredient")
    page.goto(f"{live_server.url}/compositions/{damsons}/")
    page.get_by_label("Sugar, g in 100 g").fill("9")
    page.get_by_role("radio", name="measured in this house").check()
    page.get_by_role("button", name="Keep it").click()
    page.goto(f"{live_server.url}/recipes/add/")
    page.get_by_label("Name", exact=True).fill("Damson wine")
    page.get_by_role("button", name="Go on to its steps").click()
    page.get_by_label("Reckoned for").fill("18 L")
    write_line(page, 1, "Damsons", "5.4 kg")
    write_line(page, 2, "White sugar", "3.4 kg")
    return page


def write_line(page, number, item, amount):
    row = page.get_by_role("group", name=f"Line {number}", exact=True)
    row.get_by_label("What goes in").select_option(label=item)
    row.get_by_label("How much").fill(amount)
    row.get_by_label("Reckoned").select_option(label="fixed amount")
    row.get_by_label("At step no.").fill("1")


def balance(page):
    return page.get_by_role("region", name="What comes of it")


def test_the_must_answers_as_it_is_typed_and_is_made_to_order(damson_must):
    page = damson_must
    expect(balance(page)).to_contain_text("3886 g")
    expect(balance(page)).to_contain_text("215.9 g/L")
    expect(balance(page)).to_contain_text("1.0828")

    page.get_by_text("Make it to order").click()
    page.get_by_label("Make it this gravity").fill("1.090")
    page.get_by_label("by more or less").select_option(label="White sugar")
    page.get_by_role("button", name="Make it so").click()
    said = page.get_by_role("status").filter(has_text="Not kept yet")
    expect(said).to_contain_text("White sugar: 341 g more, 3741 g in all.")
    expect(said).to_contain_text("Water: 212 mL less.")
    expect(balance(page)).to_contain_text("4227 g")

    page.get_by_role("button", name="Take it back").click()
    expect(balance(page)).to_contain_text("3886 g")
    page.get_by_text("Make it to order").click()
    page.get_by_label("Make it fit").fill("9 L")
    page.get_by_role("button", name="Make it fit").click()
    expect(balance(page)).to_contain_text("1943 g")
    expect(page.get_by_role("status").filter(has_text="Not kept yet")).to_contain_text(
        "Damsons: 2.7 kg less, 2.7 kg in all."
    )
    assert page.evaluate("window.broken") == []


def test_sweet_and_fizz_is_stopped_with_the_ways_out(damson_must):
    page = damson_must
    page.get_by_label("Sweetness wished").select_option(label="sweet")
    page.get_by_label("How it is kept").select_option(label="closed with fizz")

    expect(balance(page)).to_contain_text("Stop: sweet, live yeast and a closed bottle")
    expect(balance(page)).to_contain_text("bottle it dry and sweeten it in the glass")


def test_without_scripts_a_button_reckons(browser, live_server, damson_must):
    page = damson_must
    state = page.context.storage_state()
    address = page.url
    plain = browser.new_context(java_script_enabled=False, storage_state=state, viewport=PHONE)
    page = plain.new_page()
    page.goto(address)
    page.get_by_label("Reckoned for").fill("18 L")
    write_line(page, 1, "Damsons", "5.4 kg")
    write_line(page, 2, "White sugar", "3.4 kg")

    page.get_by_role("button", name="Reckon", exact=True).click()

    expect(balance(page)).to_contain_text("1.0828")
    expect(
        page.get_by_role("group", name="Line 2", exact=True).get_by_label("How much")
    ).to_have_value("3.4 kg")
    plain.close()
