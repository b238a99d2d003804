"""Takes a picture of every page of the demo house, to be looked at by somebody.

Run from the top of the project, with words of the names to narrow it:
DJANGO_SETTINGS_MODULE=tests.settings python -m tests.browser.shots [season store ...]
Each page is taken on a telephone and at a desk, in light and in dark, and as it is printed on A4; the
files are in .shots/, which is not kept.
"""

import shutil
import sys
from pathlib import Path

from playwright.sync_api import Browser, Page, sync_playwright

from tests.browser.conftest import FLAGS
from tests.browser.demo_house import DESK, PHONE, House, serving
from tests.browser.demo_pages import ALSO, KEYED, SIGNED_IN, SIGNED_OUT

FOLDER = Path(__file__).parent.parent.parent / ".shots"
DEVICES = {"phone": PHONE, "desk": DESK}
# What is left of A4 between margins of 15 mm, in CSS pixels of 1/96 inch.
PAPER = {"width": 680, "height": 1000}


def file_for(name: str, kind: str) -> Path:
    stem = name.replace("planner:", "").replace("inventory:", "").replace(" ", "-")
    return FOLDER / f"{stem}-{kind}.png"


def take(page: Page, name: str, device: str) -> None:
    """The window grows to the length of the page, so that the bar lies at its foot."""
    whole = page.evaluate("document.documentElement.scrollHeight")
    size = DEVICES[device]["viewport"]
    page.set_viewport_size(size | {"height": max(whole, size["height"])})
    for scheme in ("light", "dark"):
        page.emulate_media(media="screen", color_scheme=scheme)
        page.screenshot(path=file_for(name, f"{device}-{scheme}"))
    page.set_viewport_size(size)


def take_printed(page: Page, name: str) -> None:
    page.emulate_media(media="print", color_scheme="light")
    page.set_viewport_size(PAPER)
    page.screenshot(path=file_for(name, "print"), full_page=True)
    page.set_viewport_size(DESK["viewport"])


def take_all(browser: Browser, house: House, names: list[str], role: str | None) -> None:
    for device, context in DEVICES.items():
        window = browser.new_context(base_url=house.url, **context)
        if role:
            window.add_cookies([house.cookie(role)])
        page = window.new_page()
        for name in names:
            page.emulate_media(media="screen")
            page.goto(house.addresses[name])
            take(page, name, device)
            if device == "desk":
                take_printed(page, name)
        window.close()


def asked(names: list[str], words: list[str]) -> list[str]:
    return [name for name in names if not words or any(word in name for word in words)]


def main() -> None:
    words = sys.argv[1:]
    FOLDER.mkdir(exist_ok=True)
    with serving() as house, sync_playwright() as player:
        browser = player.chromium.launch(executable_path=shutil.which("chromium"), args=FLAGS)
        take_all(browser, house, asked([*SIGNED_IN, *ALSO, *KEYED], words), "keeper")
        take_all(browser, house, asked(SIGNED_OUT, words), None)
        browser.close()
    sys.stdout.write(f"{len(list(FOLDER.glob('*.png')))} pictures are in {FOLDER.name}/\n")


if __name__ == "__main__":
    main()
