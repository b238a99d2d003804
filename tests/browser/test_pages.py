"""Every page of a full house, at a phone's and a desk's width, in light and in dark."""

from dataclasses import dataclass

import pytest
from playwright.sync_api import Page

from tests.browser import inspection
from tests.browser.demo_house import DESK, PHONE
from tests.browser.demo_pages import ALSO, KEYED, SIGNED_IN, SIGNED_OUT

# Looks like the season but for its length, which takes the checks half a minute.
TOO_LONG = {"every plant drawn"}
PAGES = [name for name in [*SIGNED_IN, *ALSO, *KEYED] if name not in TOO_LONG]


@dataclass(frozen=True)
class Window:
    page: Page
    width: int
    scales: inspection.Scales


def two_windows(visitor, role=None):
    """A telephone and a desk."""
    for device in (PHONE, DESK):
        page = visitor(role, **device)
        yield Window(page, device["viewport"]["width"], inspection.Scales(page))


@pytest.fixture(scope="session")
def windows(visitor):
    return list(two_windows(visitor, "keeper"))


@pytest.fixture(scope="session")
def strangers_windows(visitor):
    return list(two_windows(visitor))


def faults_of(window, address):
    """What is wrong at one width; one load of the page."""
    page = window.page
    page.emulate_media(color_scheme="light")
    window.scales.empty()
    page.goto(address)
    found = window.scales.too_heavy()
    found += inspection.covered_stops(page)
    page.evaluate(inspection.OPEN_ALL)
    found += inspection.lay_of(page, window.width)
    inspection.bring_axe(page)
    found += inspection.violations(page)
    page.emulate_media(color_scheme="dark")
    found += [f"in the dark: {one}" for one in inspection.violations(page)]
    return [f"{window.width} px: {fault}" for fault in found]


@pytest.mark.parametrize("name", PAGES)
def test_a_page_can_be_seen_read_reached_and_carried(name, windows, demo_house):
    address = demo_house.addresses[name]

    assert [fault for window in windows for fault in faults_of(window, address)] == []


@pytest.mark.parametrize("name", SIGNED_OUT)
def test_a_page_for_strangers_can_be_seen_read_reached_and_carried(
    name, strangers_windows, demo_house
):
    address = demo_house.addresses[name]

    assert [fault for window in strangers_windows for fault in faults_of(window, address)] == []


def test_the_longest_page_is_as_light_as_the_others(windows, demo_house):
    window = windows[0]
    window.scales.empty()

    window.page.goto(demo_house.addresses["every plant drawn"])

    assert window.scales.too_heavy() == []
    assert inspection.lay_of(window.page, window.width) == []
