"""Headless Chromium against the test server, signed in as a person would."""

import os
import shutil

import pytest
from playwright.sync_api import expect

from tests.browser.demo_house import serving

os.environ.setdefault("DJANGO_ALLOW_ASYNC_UNSAFE", "true")
expect.set_options(timeout=20_000)
FLAGS = [
    "--no-sandbox",
    "--disable-gpu",
    "--disable-quic",
    "--no-first-run",
    "--disable-background-networking",
    "--disable-component-update",
    "--disable-sync",
]
WATCH_POLICY = """
window.broken = [];
document.addEventListener("securitypolicyviolation", e => window.broken.push(e.violatedDirective));
"""
PHONE = {"width": 390, "height": 844}
DESK = {"width": 1280, "height": 900}


def pytest_collection_modifyitems(items):
    for item in items:
        if "tests/browser" in str(item.path):
            item.add_marker(pytest.mark.browser)
            if "demo_house" not in item.fixturenames:
                item.add_marker(pytest.mark.django_db(transaction=True))


@pytest.fixture(scope="session")
def browser_type_launch_args(browser_type_launch_args):
    return {
        **browser_type_launch_args,
        "executable_path": shutil.which("chromium"),
        "args": FLAGS,
    }


@pytest.fixture
def signed_in(live_server, page, maker):
    """A page on which the maker has signed in by name and password."""
    page.set_default_timeout(20_000)
    page.add_init_script(WATCH_POLICY)
    page.goto(f"{live_server.url}/sign-in/")
    page.get_by_label("Name").fill("maker")
    page.get_by_label("Password").fill("hedge row 12 stile")
    page.get_by_role("button", name="Sign in").click()
    page.wait_for_url(f"{live_server.url}/")
    return page


@pytest.fixture(scope="session")
def demo_house():
    """The demo house on a server of its own: whoever takes it only looks, and changes nothing."""
    with serving() as house:
        yield house


@pytest.fixture(scope="session")
def visitor(browser, demo_house):
    """A function that opens a window on the demo house, signed in by role or as a stranger."""
    opened = []

    def visit(role=None, **context):
        window = browser.new_context(base_url=demo_house.url, **context)
        opened.append(window)
        window.add_init_script(WATCH_POLICY)
        if role:
            window.add_cookies([demo_house.cookie(role)])
        page = window.new_page()
        page.set_default_timeout(20_000)
        return page

    yield visit
    for window in opened:
        window.close()
