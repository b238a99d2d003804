"""Scales, axes and rows of bars: everything stands where it should, and as text without commas."""

import datetime as dt
import math
import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from inventory.pictures import (
    Bar,
    Point,
    Row,
    Scale,
    coordinate,
    date_words,
    day_axis,
    days_words,
    draw_rows,
    value_axis,
)

FIRST = dt.date(2026, 1, 1)
LAST = dt.date(2026, 12, 31)
NUMBER = re.compile(r"-?\d+(\.\d{1,2})?")

days = st.dates(dt.date(2025, 1, 1), dt.date(2027, 12, 31))
spans = st.tuples(days, days).filter(lambda pair: pair[0] < pair[1])
texts = st.text("abc def, ", max_size=60)
bars = st.builds(lambda span, words: Bar(*span, "wash", words), spans, texts)
rows = st.builds(
    lambda label, note, found, reach, at: Row(
        label, note, bars=found, reaches=[reach], points=[Point(at, "best")], over=found[:1]
    ),
    label=texts,
    note=texts,
    found=st.lists(bars, max_size=6),
    reach=spans,
    at=days,
)


def year_of(*given_rows, now=None):
    return draw_rows(given_rows, axis=day_axis(FIRST, LAST), now=now)


def widths(drawing):
    return [(float(box.x), float(box.width)) for box in drawing.boxes]


def across(drawing):
    """Every place along x in a drawing, in percent."""
    found = [end for stroke in (*drawing.grid, *drawing.strokes) for end in (stroke.x1, stroke.x2)]
    found += [shape.x for shape in (*drawing.boxes, *drawing.dots, *drawing.words)]
    return found + [coordinate(x + width) for x, width in widths(drawing)]


def down(drawing):
    found = [end for stroke in (*drawing.grid, *drawing.strokes) for end in (stroke.y1, stroke.y2)]
    found += [shape.y for shape in (*drawing.boxes, *drawing.dots, *drawing.words)]
    return found + [coordinate(float(box.y) + float(box.height)) for box in drawing.boxes]


def test_day_stands_at_its_share_of_the_year():
    scale = Scale.of_days(FIRST, LAST)

    assert scale.at(FIRST) == 0
    assert scale.at(dt.date(2026, 7, 2)) == pytest.approx(49.86, abs=0.01)
    assert scale.at(LAST + dt.timedelta(days=1)) == 100


def test_what_lies_outside_a_scale_stands_at_its_edge():
    scale = Scale(10, 20)

    assert (scale.at(5), scale.at(25)) == (0, 100)
    assert not scale.holds(25)


@given(st.floats(-1e6, 1e6), st.floats(1e-3, 1e6), st.floats(-2e6, 2e6), st.floats(-2e6, 2e6))
def test_scale_never_turns_back(low, reach, one, other):
    scale = Scale(low, low + reach)

    sooner, later = sorted([one, other])

    assert 0 <= scale.at(sooner) <= scale.at(later) <= 100


@pytest.mark.parametrize("ends", [(3, 3), (3, 2), (math.nan, 2), (0, math.inf)])
def test_scale_that_does_not_rise_is_refused(ends):
    with pytest.raises(ValueError, match=r"rises|no place"):
        Scale(*ends)


@given(st.floats(allow_nan=False, allow_infinity=False, min_value=-1e9, max_value=1e9))
def test_coordinate_is_plain_text_within_half_a_hundredth(value):
    text = coordinate(value)

    assert NUMBER.fullmatch(text)
    assert float(text) == pytest.approx(value, abs=0.00501)


@pytest.mark.parametrize("value", [math.nan, math.inf, -math.inf])
def test_coordinate_refuses_what_is_no_number(value):
    with pytest.raises(ValueError, match="no place"):
        coordinate(value)


def test_year_is_marked_by_its_months():
    axis = day_axis(FIRST, LAST)

    assert [tick.words for tick in axis.ticks] == [
        "Jan", "Feb", "Mar", "Apr", "May", "Jun", "Jul", "Aug", "Sep", "Oct", "Nov", "Dec",
    ]  # fmt: skip
    assert not axis.has_second_line


def test_brewing_year_names_both_its_years():
    axis = day_axis(dt.date(2026, 4, 1), dt.date(2027, 3, 31))

    named = [(tick.words, tick.below) for tick in axis.ticks if tick.below]

    assert named == [("Apr", "2026"), ("Jan", "2027")]


def test_twelve_weeks_are_marked_by_mondays():
    axis = day_axis(dt.date(2026, 4, 8), dt.date(2026, 6, 30))

    assert [tick.words for tick in axis.ticks] == ["13 Apr", "27 Apr", "11 May", "25 May", "8 Jun", "22 Jun"]  # fmt: skip


def test_axis_of_values_takes_round_numbers():
    axis = value_axis(0, 9.3, lambda value: f"{value:.0f}")

    assert [tick.words for tick in axis.ticks] == ["0", "2", "4", "6", "8", "10"]
    assert axis.scale.high == 10


@given(st.floats(-1e5, 1e5), st.floats(1e-3, 1e5))
def test_axis_of_values_holds_both_ends_with_two_to_ten_marks(low, reach):
    axis = value_axis(low, low + reach, str)

    slack = 1e-6 * (axis.scale.high - axis.scale.low)

    assert axis.scale.low <= low + slack
    assert axis.scale.high >= low + reach - slack
    assert 2 <= len(axis.ticks) <= 10


def test_days_are_written_short():
    assert days_words(dt.date(2026, 9, 16), dt.date(2026, 9, 18)) == "16 to 18 Sep"
    assert days_words(dt.date(2026, 9, 16), dt.date(2027, 9, 18)) == "16 Sep to 18 Sep"
    assert days_words(FIRST, FIRST) == "1 Jan"
    assert date_words(FIRST) == "1 Jan 2026"


def test_bar_ends_where_its_last_day_ends():
    drawing = year_of(Row("Gorse", bars=[Bar(dt.date(2026, 3, 1), dt.date(2026, 4, 1), "wash")]))

    assert widths(drawing) == [(16.16, 8.49)]


def test_overlapping_bars_go_below_one_another():
    clash = [
        Bar(dt.date(2026, 9, 12), dt.date(2026, 9, 19), "wash"),
        Bar(dt.date(2026, 9, 16), dt.date(2026, 9, 23), "wash"),
        Bar(dt.date(2026, 9, 19), dt.date(2026, 9, 30), "wash"),
    ]

    first, second, third = sorted(
        year_of(Row("Bucket", bars=clash)).boxes, key=lambda b: float(b.x)
    )

    assert float(second.y) == float(first.y) + 16
    assert third.y == first.y


def test_bar_that_goes_on_beyond_the_year_says_so():
    bar = Bar(dt.date(2025, 10, 1), dt.date(2027, 3, 1), "wash")

    assert [box.look for box in year_of(Row("Parsnip", bars=[bar])).boxes] == ["wash came goes"]


def test_long_name_is_wrapped_and_never_cut():
    name = "Crab apple and quince with honey, second racking of the year 2026 from Beck Bottom"

    lines = [words.text for words in year_of(Row(name)).words if words.look.startswith("label")]

    assert " ".join(lines) == name
    assert max(map(len, lines)) <= 31


def test_name_of_a_short_bar_stands_after_it():
    bar = Bar(dt.date(2026, 2, 1), dt.date(2026, 2, 8), "wash", "Rhubarb 2026")

    words = next(w for w in year_of(Row("Bucket", bars=[bar])).words if w.text == "Rhubarb 2026")

    assert words.look == "beside"
    assert float(words.x) == 10.41


def test_today_is_drawn_only_where_it_is_in_sight():
    seen, unseen = year_of(now=dt.date(2026, 6, 14)), year_of(now=dt.date(2027, 6, 14))

    assert [stroke.x1 for stroke in seen.grid if stroke.look == "now"] == ["44.93"]
    assert [stroke for stroke in unseen.grid if stroke.look == "now"] == []


@given(st.lists(rows, max_size=9), days)
def test_nothing_of_any_rows_leaves_the_picture(found, now):
    drawing = draw_rows(found, axis=day_axis(FIRST, LAST), now=now)

    assert all(NUMBER.fullmatch(text) for text in across(drawing) + down(drawing))
    assert all(0 <= float(x) <= 100.01 for x in across(drawing))
    assert all(0 <= float(y) <= float(drawing.height) for y in down(drawing))
