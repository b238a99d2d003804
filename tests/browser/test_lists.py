"""A list sorted in place is still a page of the house when somebody comes back to it."""

import re

import pytest
from playwright.sync_api import expect

from tests.browser.demo_house import DESK, PHONE


@pytest.fixture(scope="module", params=[PHONE, DESK], ids=["phone", "desk"])
def page(request, visitor):
    return visitor("keeper", **request.param)


def expect_whole_page(page, heading):
    expect(page.get_by_role("heading", level=1)).to_have_accessible_name(heading)
    expect(page.get_by_role("banner")).to_be_visible()
    expect(page.get_by_role("navigation", name=re.compile("^Places")).first).to_be_visible()


def first_item(page):
    return page.get_by_role("rowheader").first


def test_back_after_sorting_gives_the_sorted_page(page):
    page.goto("/store/")
    by_name = first_item(page).inner_text()
    page.get_by_role("columnheader").get_by_role("link", name="Item").click()
    expect(first_item(page)).not_to_have_text(by_name)
    by_name_backwards = first_item(page).inner_text()
    first_item(page).get_by_role("link").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text(by_name_backwards)

    page.go_back()

    expect_whole_page(page, "Store")
    expect(first_item(page)).to_have_text(by_name_backwards)
    page.go_back()
    expect_whole_page(page, "Store")
    expect(first_item(page)).to_have_text(by_name)


def test_sorting_says_how_and_keeps_the_place(page):
    page.goto("/store/")
    column = page.get_by_role("columnheader").filter(has=page.get_by_role("link", name="Item"))

    column.get_by_role("link").focus()
    page.keyboard.press("Enter")

    expect(column).to_have_attribute("aria-sort", re.compile("ascending|descending"))
    expect(column.get_by_role("link")).to_be_focused()


def test_a_sorted_address_opened_anew_is_the_sorted_page(page):
    page.goto("/store/")
    page.get_by_role("columnheader").get_by_role("link", name="Item").click()
    expect(page).to_have_url(re.compile("sort="))
    sorted_first = first_item(page).inner_text()

    page.reload()

    expect_whole_page(page, "Store")
    expect(first_item(page)).to_have_text(sorted_first)
