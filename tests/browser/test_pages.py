"""Every page of a full house, at a phone's and a desk's width, in light and in dark."""

import pytest

from tests.browser import inspection
from tests.browser.demo_house import DESK, PHONE
from tests.browser.demo_pages import ALSO, SIGNED_IN, SIGNED_OUT

PAGES = [*SIGNED_IN, *ALSO]


@pytest.fixture(scope="session")
def windows(visitor):
    """A telephone and a desk, both signed in as the keeper."""
    return {390: visitor("keeper", **PHONE), 1280: visitor("keeper", **DESK)}


@pytest.fixture(scope="session")
def strangers_windows(visitor):
    return {390: visitor(**PHONE), 1280: visitor(**DESK)}


def faults_of(page, width, address):
    """What is wrong at one width; one load of the page."""
    page.emulate_media(color_scheme="light")
    page.goto(address)
    found = inspection.covered_stops(page)
    page.evaluate(inspection.OPEN_ALL)
    found += inspection.lay_of(page, width)
    inspection.bring_axe(page)
    found += inspection.violations(page)
    page.emulate_media(color_scheme="dark")
    found += [f"in the dark: {one}" for one in inspection.violations(page)]
    return found


def faults_at(address, windows):
    return [
        f"{width} px: {fault}"
        for width, page in windows.items()
        for fault in faults_of(page, width, address)
    ]


@pytest.mark.parametrize("name", PAGES)
def test_a_page_can_be_seen_read_and_reached_by_everybody(name, windows, demo_house):
    address = demo_house.addresses[name]

    assert faults_at(address, windows) == []


@pytest.mark.parametrize("name", SIGNED_OUT)
def test_a_page_for_strangers_can_be_seen_read_and_reached(name, strangers_windows, demo_house):
    address = demo_house.addresses[name]

    assert faults_at(address, strangers_windows) == []
