"""Steps, curves with a band, limits and columns: where they run, and what is refused."""

import datetime as dt
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.pictures import (
    Band,
    Column,
    Limit,
    Line,
    Plot,
    Point,
    day_axis,
    lines_behind,
    value_axis,
)

FIRST = dt.date(2026, 4, 6)
LAST = dt.date(2026, 4, 15)
NUMBERS = re.compile(r"\d+(?:\.\d+)?")
COMMANDS = re.compile(r"[MLHVZ0-9. ]+")

amounts = st.floats(0, 10, allow_nan=False)
places = st.lists(st.floats(0, 40, allow_nan=False), min_size=1, max_size=12).map(sorted)


def day(number):
    return FIRST + dt.timedelta(days=number)


def ten_days(**shapes):
    return Plot(across=day_axis(FIRST, LAST), up=value_axis(0, 10, str), **shapes)


def by_temperature(**shapes):
    return Plot(
        across=value_axis(0, 40, str, tight=True), up=value_axis(-10, 10, str, tight=True), **shapes
    )


def test_steps_hold_each_value_until_the_next():
    plot = ten_days(lines=[Line("sugar", [(day(0), 5), (day(4), 8)], steps=True)])

    assert [path.d for path in plot.drawing().paths] == ["M0 50H40V20H100"]


def test_steps_begin_with_the_value_from_before_and_end_at_the_edge():
    points = [(day(-30), 1), (day(-2), 5), (day(4), 8), (day(30), 2)]

    plot = ten_days(lines=[Line("sugar", points, steps=True)])

    assert [path.d for path in plot.drawing().paths] == ["M0 50H40V20H100"]


def test_curve_joins_its_points():
    plot = ten_days(lines=[Line("gravity", [(day(0), 10), (day(5), 0)])])

    assert [path.d for path in plot.drawing().paths] == ["M0 0 L50 100"]


def test_band_goes_there_low_and_comes_back_high():
    band = Band("expected", [(day(0), 0), (day(5), 2)], [(day(0), 6), (day(5), 8)])

    assert [path.d for path in ten_days(bands=[band]).drawing().paths] == ["M0 100 L50 80 L50 20 L0 40Z"]  # fmt: skip


def test_limit_hatches_what_lies_beyond_it():
    drawing = ten_days(limits=[Limit("6 owned", 6, beyond=True)]).drawing()

    assert [(stroke.look, stroke.y1) for stroke in drawing.strokes] == [("limit", "102")]
    assert [(box.hatch, box.y, box.height) for box in drawing.boxes] == [("hip", "22", "80")]
    assert "6 owned" in [words.text for words in drawing.words]


def test_words_of_a_limit_go_where_the_line_is_not():
    falling = ten_days(
        lines=[Line("sugar", [(day(0), 10), (day(10), 5)])], limits=[Limit("keep", 4.5)]
    )
    rising = ten_days(
        lines=[Line("sugar", [(day(0), 5), (day(10), 10)])], limits=[Limit("keep", 4.5)]
    )

    spots = [
        next(words.x for words in plot.drawing().words if words.text == "keep")
        for plot in (falling, rising)
    ]

    assert spots == ["0", "100"]


def test_words_of_two_limits_close_together_do_not_cross():
    drawing = ten_days(limits=[Limit("rated 6.0 bar", 6), Limit("rated 5.6 bar", 5.6)]).drawing()

    places = [(words.x, words.y) for words in drawing.words if words.text.startswith("rated")]

    assert places == [("100", "96"), ("100", "125")]


def test_column_hangs_below_the_zero_line_and_says_how_much():
    drawing = by_temperature(columns=[Column(20, 5, "1.1 kg", "1.1 kg short")]).drawing()

    box = drawing.boxes[0]

    assert (box.look, box.hatch, box.y, box.height) == ("short", "hip", "122", "50")
    assert box.title == "1.1 kg short"
    assert ("1.1 kg", "50", "186") in [(words.text, words.x, words.y) for words in drawing.words]


def test_words_of_crowded_columns_are_left_to_the_table():
    columns = [Column(at, 5, "900 g") for at in (20, 20.5, 21)]

    drawing = by_temperature(columns=columns).drawing()

    assert len(drawing.boxes) == 3
    assert "900 g" not in [words.text for words in drawing.words]


@pytest.mark.parametrize(
    ("shapes", "reason"),
    [
        ({"lines": [Line("x", [(day(0), 11)])]}, "outside the axis"),
        ({"lines": [Line("x", [(day(-1), 1)])]}, "outside the axis"),
        ({"lines": [Line("x", [(day(3), 1), (day(2), 1)])]}, "left to right"),
        ({"lines": [Line("x", [(day(0), float("nan"))])]}, "no place"),
        ({"limits": [Limit("x", 12)]}, "not lie on the axis"),
        ({"columns": [Column(day(0), 3, "x")]}, "not lie on the axis"),
        ({"measured": [(Point(day(40), "measured"), 1)]}, "outside the picture"),
    ],
)
def test_what_does_not_lie_on_the_axes_is_refused(shapes, reason):
    with pytest.raises(ValueError, match=reason):
        ten_days(**shapes).drawing()


def test_table_behind_a_curve_holds_every_point_band_and_limit():
    plot = ten_days(
        lines=[Line("read", [(day(0), 1.5), (day(4), 8)])],
        bands=[Band("expected", [(day(0), 1), (day(2), 2)], [(day(0), 3), (day(2), 4)])],
        limits=[Limit("finish", 2)],
        measured=[(Point(day(4), "measured"), 8)],
    )

    head, lines = lines_behind(plot, across=("Day", lambda at: f"{at:%d}"), up=lambda v: f"{v:g}")

    assert head == ("Day", "read", "expected", "measured", "finish")
    assert lines == [
        ("06", "1.5", "1 to 3", "", "2"),
        ("08", "", "2 to 4", "", "2"),
        ("10", "8", "", "8", "2"),
    ]


@given(places, st.data(), st.booleans())
def test_no_line_leaves_its_field(found, data, steps):
    values = [data.draw(amounts) for _ in found]
    line = Line("x", list(zip(found, values, strict=True)), steps=steps)

    d = by_temperature(lines=[line]).drawing().paths[0].d

    assert COMMANDS.fullmatch(d)
    assert all(0 <= float(number) <= 100 for number in NUMBERS.findall(d))


@given(places, st.data())
def test_no_column_leaves_the_picture(found, data):
    columns = [Column(at, data.draw(amounts), "900 g") for at in found]

    boxes = by_temperature(columns=columns).drawing().boxes

    assert all(float(box.x) >= 0 and float(box.x) + float(box.width) <= 100.001 for box in boxes)
    assert all(float(box.y) >= 22 and float(box.y) + float(box.height) <= 222.01 for box in boxes)
