"""What goes to the kitchen on paper: light, without the frame of the page, on A4 and on Letter."""

import re

import pytest
from playwright.sync_api import expect

from tests.browser.demo_house import DESK

PRINTED = [
    "planner:day-sheet",
    "planner:batch-detail",
    "inventory:shopping-list",
    "inventory:item-detail",
]
# Height and width in points of 1/72 inch (ISO 216; ANSI/ASME Y14.1), and what is left across
# between margins of 15 mm in CSS pixels of 1/96 inch.
SHEETS = {"A4": ((595, 842), 680), "Letter": ((612, 792), 702)}
# Everything on the sheet that is darker behind than white, or lighter in front than a mid grey.
NOT_FOR_PAPER = """
() => {
  const light = colour => {
    const [r, g, b, a = 1] = colour.match(/[\\d.]+/g).map(Number);
    return a === 0 ? 255 : 0.2126 * r + 0.7152 * g + 0.0722 * b;
  };
  const root = getComputedStyle(document.documentElement).backgroundColor;
  const found = light(root) < 254 ? [`sheet: ${root}`] : [];
  for (const part of document.querySelectorAll("body, body *")) {
    if (!part.checkVisibility() || part.closest("svg")) continue;
    const { color, backgroundColor } = getComputedStyle(part);
    if (light(backgroundColor) < 254) found.push(`ground: ${part.outerHTML.slice(0, 80)}`);
    if (light(color) > 127) found.push(`ink: ${part.outerHTML.slice(0, 80)}`);
  }
  return found;
}
"""


@pytest.fixture(scope="module")
def page(visitor):
    """Somebody who likes it dark, also on a machine that is dark."""
    page = visitor("keeper", **DESK)
    page.add_init_script(
        "addEventListener('DOMContentLoaded', () => { document.documentElement.dataset.theme = 'dark'; })"
    )
    return page


@pytest.fixture
def to_print(page, demo_house):
    def open_for_print(name):
        page.set_viewport_size(DESK["viewport"])
        page.emulate_media(media="screen", color_scheme="dark")
        page.goto(demo_house.addresses[name])
        dark = page.evaluate("getComputedStyle(document.documentElement).backgroundColor")
        assert dark == "rgb(24, 26, 22)"
        page.emulate_media(media="print", color_scheme="dark")
        return page

    return open_for_print


@pytest.mark.parametrize("name", PRINTED)
def test_paper_is_light_even_for_those_who_like_it_dark(name, to_print):
    page = to_print(name)

    assert page.evaluate(NOT_FOR_PAPER) == []


@pytest.mark.parametrize("name", PRINTED)
def test_paper_shows_the_content_and_nothing_to_press(name, to_print):
    page = to_print(name)

    expect(page.get_by_role("heading", level=1)).to_be_visible()
    for role in ("navigation", "search", "textbox", "combobox", "banner"):
        expect(page.get_by_role(role)).to_have_count(0)
    # A word that opens its meaning on a screen is printed as the word.
    words = page.locator("[popovertarget]")
    expect(page.get_by_role("button")).to_have_count(words.filter(visible=True).count())


@pytest.mark.parametrize("sheet", SHEETS)
@pytest.mark.parametrize("name", PRINTED)
def test_paper_of_both_sizes_holds_the_whole_width(name, sheet, to_print):
    (width, height), across = SHEETS[sheet]
    page = to_print(name)

    page.set_viewport_size({"width": across, "height": 900})
    assert page.evaluate("document.documentElement.scrollWidth") <= across
    printed = page.pdf(format=sheet)

    boxes = set(re.findall(rb"/MediaBox \[([\d. ]+)\]", printed))
    measured = [[float(number) for number in box.split()] for box in boxes]
    assert measured == [pytest.approx([0, 0, width, height], abs=1)]
    assert printed.count(b"/Type /Page\n") in range(1, 8)


def test_the_day_sheet_has_boxes_to_tick_and_room_to_write(to_print):
    page = to_print("planner:day-sheet")

    mash = page.get_by_role("listitem").filter(has=page.get_by_role("link", name="Mash"))
    room = mash.get_by_role("list", name="Room to write, on paper")
    expect(room.first.get_by_role("listitem")).to_have_text(
        ["Done on", "Gravity", "At, °C", "Notes"]
    )
    expect(mash.first).to_contain_text("lot")
    expect(mash.first).to_contain_text("Look-alikes")
