"""Every pair of colours that meet on a page can be told apart, in light and in dark.

Contrast after WCAG 2.2, success criteria 1.4.3 (text, 4.5) and 1.4.11 (edges, 3).
"""

import re
from pathlib import Path

import pytest

CSS = Path(__file__).parent.parent / "planner/static/planner"
TOKEN = re.compile(r"--([a-z-]+): light-dark\((#[0-9a-f]{6}), (#[0-9a-f]{6})\);")
TOKENS = {name: pair for name, *pair in TOKEN.findall((CSS / "app.css").read_text())}

WASHES = ("leaf-wash", "hip-wash", "sloe-wash", "gorse-wash")
TEXT_PAIRS = [
    *((text, ground) for text in ("ink", "faded", "sloe", "leaf", "hip") for ground in ("paper", "shade")),
    *((text, wash) for text in ("ink", "sloe") for wash in WASHES),
    ("leaf", "leaf-wash"),
    ("hip", "hip-wash"),
    ("gorse", "gorse-wash"),
    ("on-solid", "leaf"),
    ("on-solid", "hip"),
]  # fmt: skip
EDGE_PAIRS = [
    *((edge, ground) for edge in ("edge", "sloe", "leaf", "hip", "gorse") for ground in ("paper", "shade")),
    *(("edge", wash) for wash in WASHES),
]  # fmt: skip
THEMES = {"light": 0, "dark": 1}


def luminance(colour: str) -> float:
    """Relative luminance as defined in WCAG 2.2, section 6."""
    parts = [int(colour[at : at + 2], 16) / 255 for at in (1, 3, 5)]
    red, green, blue = (
        part / 12.92 if part <= 0.04045 else ((part + 0.055) / 1.055) ** 2.4 for part in parts
    )
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: str, other: str) -> float:
    """Contrast ratio as defined in WCAG 2.2, section 6."""
    darker, lighter = sorted([luminance(one), luminance(other)])
    return (lighter + 0.05) / (darker + 0.05)


def test_contrast_of_black_on_white_is_twenty_one():
    assert contrast("#000000", "#ffffff") == pytest.approx(21, abs=0.001)


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize(("text", "ground"), TEXT_PAIRS)
def test_text_can_be_read_on_its_ground(text, ground, theme):
    at = THEMES[theme]

    assert contrast(TOKENS[text][at], TOKENS[ground][at]) >= 4.5


@pytest.mark.parametrize("theme", THEMES)
@pytest.mark.parametrize(("edge", "ground"), EDGE_PAIRS)
def test_edges_can_be_seen_on_their_ground(edge, ground, theme):
    at = THEMES[theme]

    assert contrast(TOKENS[edge][at], TOKENS[ground][at]) >= 3


def test_colours_stand_only_in_the_tokens():
    elsewhere = [path for path in CSS.glob("*.css") if path.name not in ("app.css", "print.css")]

    found = {path.name: re.findall(r"#[0-9a-fA-F]{3,8}\b", path.read_text()) for path in elsewhere}

    assert {name: colours for name, colours in found.items() if colours} == {}


def test_style_sheets_fetch_nothing():
    text = "".join(path.read_text() for path in CSS.glob("*.css"))

    assert "url(" not in text
    assert "@import" not in text
