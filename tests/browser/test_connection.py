"""A slow or lost connection leaves what was typed where it is, says so, and nothing counts twice."""

import datetime as dt
import re

import pytest
from playwright.sync_api import expect

from inventory import items, ledger
from inventory.models import Item, Lot
from planner.models import RecipeVersion
from tests.planner.world import damson_version


@pytest.fixture
def receiving(signed_in, live_server, sugar):
    """The form that receives sugar, filled in."""
    page = signed_in
    page.goto(f"{live_server.url}/lots/add/?item={sugar.pk}")
    page.get_by_label("How much", exact=True).fill("2,5 kg")
    page.get_by_label("From", exact=True).fill("the mill")
    return page


def send(page):
    page.get_by_role("button", name="Receive it").click()


def expect_as_typed(page):
    expect(page.get_by_role("alert")).to_contain_text("what you typed is still here")
    expect(page.get_by_label("How much", exact=True)).to_have_value("2,5 kg")
    expect(page.get_by_label("From", exact=True)).to_have_value("the mill")


def test_a_lost_connection_is_said_and_the_form_can_be_sent_later(receiving):
    page = receiving
    page.context.set_offline(True)
    send(page)
    expect_as_typed(page)
    expect(page.get_by_role("alert")).to_contain_text("The house cannot be reached")

    page.context.set_offline(False)
    send(page)

    expect(page.get_by_role("status")).to_contain_text("Received 2.5 kg of White sugar")
    assert Lot.objects.count() == 1


def test_an_answer_lost_on_its_way_back_does_not_count_twice(receiving):
    page = receiving

    def lose_the_answer(route):
        route.fetch(max_redirects=0)
        route.abort()

    page.route("**/lots/add/**", lose_the_answer)
    send(page)
    expect_as_typed(page)

    page.unroute("**/lots/add/**")
    send(page)

    expect(page.get_by_role("status")).to_contain_text("it counts once")
    assert Lot.objects.count() == 1


def test_while_a_slow_answer_is_awaited_the_form_stands_and_cannot_be_sent_again(receiving):
    page, held = receiving, []
    page.route("**/lots/add/**", lambda route: held.append(route))

    send(page)

    expect(page.get_by_role("button", name="Receive it")).to_be_disabled()
    expect(page.get_by_label("How much", exact=True)).to_have_value("2,5 kg")
    held.pop().continue_()
    expect(page.get_by_role("status")).to_contain_text("Received 2.5 kg of White sugar")


def test_an_item_typed_without_a_connection_is_not_lost(signed_in, live_server):
    page = signed_in
    page.goto(f"{live_server.url}/items/add/")
    page.get_by_label("Name", exact=True).fill("Honey")
    page.get_by_label("Kind").select_option(label="ingredient")
    page.get_by_role("radio", name="by weight (g, kg)").check()
    page.context.set_offline(True)
    page.get_by_role("button", name="Add it").click()

    expect(page.get_by_role("alert")).to_contain_text("what you typed is still here")
    expect(page.get_by_label("Name", exact=True)).to_have_value("Honey")
    page.context.set_offline(False)
    page.get_by_role("button", name="Add it").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Honey")
    assert Item.objects.count() == 1


def test_a_recipe_typed_without_a_connection_is_not_lost(signed_in, live_server, maker):
    recipe = damson_version(maker).recipe
    page = signed_in
    page.goto(f"{live_server.url}/recipes/{recipe.pk}/versions/add/")
    page.get_by_role("group", name="Step 1", exact=True).get_by_label("Step", exact=True).fill(
        "Crush"
    )
    page.context.set_offline(True)
    page.get_by_role("button", name="Keep this version").click()

    expect(
        page.get_by_role("alert").filter(has_text="what you typed is still here")
    ).to_be_visible()
    page.context.set_offline(False)
    page.get_by_role("button", name="More rows").click()
    # The words about the lost connection go when the page with more rows has come.
    expect(page.get_by_role("alert")).to_have_count(0)
    first = page.get_by_role("group", name="Step 1", exact=True)
    expect(first.get_by_label("Step", exact=True)).to_have_value("Crush")
    page.get_by_role("button", name="Keep this version").click()
    expect(page.get_by_role("heading", name="Crush")).to_be_visible()
    assert RecipeVersion.objects.count() == 2


def test_a_button_pressed_without_a_connection_says_so_and_can_be_pressed_again(
    signed_in, live_server, sugar
):
    page = signed_in
    page.goto(f"{live_server.url}/items/{sugar.pk}/edit/")
    page.context.set_offline(True)
    page.get_by_role("button", name="Put it out of sight").click()

    expect(page.get_by_role("alert")).to_contain_text("Not done yet")
    expect(page.get_by_role("alert")).to_contain_text("The house cannot be reached")
    page.context.set_offline(False)
    page.get_by_role("button", name="Put it out of sight").click()
    expect(page.get_by_role("status")).to_contain_text("Archived White sugar")


def test_a_shelf_of_forty_counted_without_a_connection_is_not_lost(signed_in, live_server, maker):
    for number in range(1, 41):
        item = items.add_item(by=maker, name=f"Herb {number}", kind="foraged", base="mg")
        ledger.receive(item=item, quantity=1_000_000, on=dt.date(2026, 1, 5), by=maker)
    page = signed_in
    page.set_viewport_size({"width": 390, "height": 844})
    page.goto(f"{live_server.url}/stocktake/")
    boxes = page.get_by_role("textbox", name=re.compile("^Herb"))
    for number in range(40):
        boxes.nth(number).fill(f"{900 + number} g")
    page.context.set_offline(True)
    page.get_by_role("button", name="That is what is there").click()

    expect(page.get_by_role("alert")).to_contain_text("what you typed is still here")
    expect(boxes.nth(39)).to_have_value("939 g")
    page.context.set_offline(False)
    page.get_by_role("button", name="That is what is there").click()
    expect(page.get_by_role("status")).to_contain_text("Counted 40 lots, 40 of them otherwise")
