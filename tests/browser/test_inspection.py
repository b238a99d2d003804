"""The checks of a page see what they are there to see."""

import pytest

from tests.browser import inspection
from tests.browser.conftest import WATCH_POLICY

ADDRESS = "http://house.test/"
SOUND = """<!doctype html><html lang="en-GB"><head><title>Store - Skelder Fold</title></head>
<body><header>Skelder Fold</header><main><h1>Store</h1>{}</main></body></html>"""


@pytest.fixture
def shown(page):
    page.set_viewport_size({"width": 390, "height": 844})
    page.add_init_script(WATCH_POLICY)

    def show(inside, whole=SOUND, **headers):
        page.route(
            ADDRESS,
            lambda route: route.fulfill(
                body=whole.replace("{}", inside), content_type="text/html", headers=headers
            ),
        )
        page.goto(ADDRESS)
        inspection.bring_axe(page)
        return page

    return show


def test_a_sound_page_has_no_fault(shown):
    page = shown("<p><a href='#more'>More</a></p>")

    assert inspection.lay_of(page, 390) == []
    assert inspection.covered_stops(page) == []
    assert inspection.violations(page) == []


@pytest.mark.parametrize(
    ("inside", "fault"),
    [
        ("<p style='width: 500px'>wide</p>", "scrolls sideways: 508 of 390 px"),
        ("<h1>Again</h1>", "2 first headings"),
        ("<p id='a'></p><p id='a'></p>", "ids twice: a"),
    ],
)
def test_a_fault_of_the_lay_is_named(shown, inside, fault):
    page = shown(inside)

    assert [one.split(": <")[0] for one in inspection.lay_of(page, 390)] == [fault]


def test_a_page_without_frame_title_or_language_is_named(shown):
    page = shown("", "<!doctype html><title>x</title><h1>Store</h1>")

    assert inspection.lay_of(page, 390) == [
        "0 main landmarks",
        "no head of the page",
        "title: x",
        "language: ",
    ]


def test_a_broken_content_policy_is_named(shown):
    page = shown("", **{"Content-Security-Policy": "img-src 'none'"})
    page.evaluate("document.body.append(Object.assign(new Image(), { src: 'data:image/png,x' }))")
    page.wait_for_timeout(200)

    assert inspection.lay_of(page, 390) == ["content policy broken: img-src"]


def test_a_stop_under_a_fixed_bar_is_named(shown):
    bar = "<div style='position: fixed; inset: auto 0 0; height: 80px; background: white'></div>"
    page = shown(f"<a href='#' style='position: fixed; bottom: 20px'>Under</a>{bar}")

    assert [one.split(":")[0] for one in inspection.covered_stops(page)] == ["focus covered"]


def test_a_stop_without_a_ring_is_named(shown):
    page = shown(
        "<a href='#' style='outline: 3px solid'>One</a> <a href='#' style='outline: none'>Two</a>"
    )

    faults = []
    for _ in range(2):
        page.keyboard.press("Tab")
        faults.append(inspection.fault_of_focus(page).split(":")[0])

    assert faults == ["", "no ring"]


@pytest.mark.parametrize(
    ("inside", "rule"),
    [
        ("<p style='color: #aaa; background: #fff'>pale</p>", "color-contrast"),
        ("<input>", "label"),
        (
            "<button style='width: 20px; height: 10px; padding: 0; margin: 0'></button>",
            "button-name",
        ),
    ],
)
def test_a_breach_of_the_guidelines_is_named(shown, inside, rule):
    page = shown(inside)

    assert [one.split(":")[0] for one in inspection.violations(page)] == [rule]
