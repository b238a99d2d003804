"""The living page draws one picture of each sort, between them with every look there is."""

import datetime as dt
import re
from pathlib import Path

from planner.living_pictures import sample_pictures

TODAY = dt.date(2026, 4, 6)
STYLES = Path("planner/static/planner/pictures.css").read_text()


def looks_of(picture):
    drawing = picture.drawing
    shapes = (*drawing.grid, *drawing.boxes, *drawing.paths, *drawing.strokes, *drawing.dots)
    return {shape.look.split()[0] for shape in shapes}


def test_every_look_that_a_shape_can_have_is_on_the_page():
    shown = set().union(*map(looks_of, sample_pictures(TODAY)))

    assert shown == {
        "axis", "band", "best", "beyond", "clash", "grid", "hatched", "hollow", "limit", "line",
        "measured", "near", "notch", "now", "pick", "reach", "short", "solid", "wash",
    }  # fmt: skip


def test_every_look_on_the_page_has_its_style():
    styled = set(re.findall(r"\.picture-([a-z]+)", STYLES))

    assert set().union(*map(looks_of, sample_pictures(TODAY))) - styled == set()


def test_every_key_names_a_look_of_its_picture():
    for picture in sample_pictures(TODAY):
        assert {key.look for key in picture.keys} <= looks_of(picture)
