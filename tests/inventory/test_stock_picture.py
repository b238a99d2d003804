"""Sugar and lemons over twelve weeks: the shelf in steps, what is short below it, all of it in the table."""

import datetime as dt

import pytest
from django.template.loader import render_to_string

from inventory import receipts, requirements, shortfalls
from inventory.shortfalls import Day
from inventory.stock_picture import stock_picture
from tests.conftest import FIRST_MONDAY, KILO, PIECE


def week(number):
    return FIRST_MONDAY + dt.timedelta(weeks=number - 1)


SUGAR_DAYS = (
    Day(week(1), 2 * KILO, 0, 0, 0, KILO, 0),
    Day(week(4), 0, KILO, 0, 0, 2 * KILO, 0),
    Day(week(5), 2_600_000, 0, 2 * KILO, 0, 1_400_000, 1_100_000),
    Day(week(12), 1_800_000, 0, KILO, 0, 600_000, 900_000),
)


@pytest.fixture
def picture(sugar):
    return stock_picture(item=sugar, days=SUGAR_DAYS, today=FIRST_MONDAY)


def test_finding_says_how_much_is_short_and_when(picture):
    assert picture.finding == (
        "White sugar: short by 1.1 kg on Mon 4 May 2026, by 900 g on Mon 22 Jun 2026."
    )


def test_every_day_stands_in_the_table(picture):
    assert picture.head == (
        "Day", "Needed", "Arrives", "To be ordered", "Past its date", "On the shelf", "Short",
    )  # fmt: skip
    assert [fact.cells for fact in picture.facts] == [
        ("Mon 6 Apr 2026", "2 kg", "", "", "", "1 kg", ""),
        ("Mon 27 Apr 2026", "", "1 kg", "", "", "2 kg", ""),
        ("Mon 4 May 2026", "2.6 kg", "", "2 kg", "", "1.4 kg", "1.1 kg"),
        ("Mon 22 Jun 2026", "1.8 kg", "", "1 kg", "", "600 g", "900 g"),
    ]


def test_shelf_is_drawn_in_steps_over_ninety_two_days(picture):
    steps = [path.d for path in picture.drawing.paths if path.look == "line"]

    # On an axis from -2 to 3 kg: 1, 2, 1.4 and 0.6 kg, on days 0, 21, 28 and 77 of 92.
    assert steps == ["M0 40H22.83V20H30.43V32H83.7V48H100"]


def test_what_is_short_hangs_below_and_is_hatched(picture):
    boxes = picture.drawing.boxes

    assert [(box.look, box.hatch, box.title) for box in boxes] == [
        ("short", "hip", "1.1 kg short on Mon 4 May 2026"),
        ("short", "hip", "900 g short on Mon 22 Jun 2026"),
    ]
    # 40 pixels are a kilogram, the zero line is 142 pixels down.
    assert [(box.y, box.height) for box in boxes] == [("142", "44"), ("142", "36")]


def test_safety_stock_is_a_dotted_line_with_its_amount(picture):
    words = [words.text for words in picture.drawing.words]

    assert [(stroke.look, stroke.y1) for stroke in picture.drawing.strokes] == [("near", "122")]
    assert "keep 500 g" in words


def test_axis_is_in_one_unit_with_short_numbers(picture):
    ticks = [words.text for words in picture.drawing.words if words.look.startswith("tick")]

    assert {"kg", "0", "1", "2", "3"} <= set(ticks)


def test_pieces_are_counted_in_their_own_word(lemons):
    days = [Day(week(1), 3 * PIECE, 0, 3 * PIECE, 0, 0, 3 * PIECE)]

    picture = stock_picture(item=lemons, days=days, today=FIRST_MONDAY)

    assert picture.finding == "Lemons: short by 3 lemons on Mon 6 Apr 2026."
    assert "lemons" in [words.text for words in picture.drawing.words]


def test_pounds_are_shown_to_those_who_like_them(sugar):
    picture = stock_picture(item=sugar, days=SUGAR_DAYS, today=FIRST_MONDAY, preference="imperial")

    assert "lb" in [words.text for words in picture.drawing.words]
    assert picture.facts[0].cells[5] == "2 lb 3.3 oz"


def test_item_without_any_day_is_an_empty_shelf_and_not_short(sugar):
    picture = stock_picture(item=sugar, days=[], today=FIRST_MONDAY)

    assert picture.finding == "White sugar: nothing is short."
    assert [path.d for path in picture.drawing.paths] == ["M0 100H100"]


def test_outlook_of_the_store_can_be_drawn(sugar, maker):
    for number, amount in ((1, 2_000_000), (5, 2_600_000)):
        requirements.need(item=sugar, quantity=amount, day=week(number), label="jam", by=maker)
    receipts.expect(item=sugar, quantity=KILO, due=week(4), by=maker)

    days = shortfalls.outlook(item=sugar, today=FIRST_MONDAY)
    picture = stock_picture(item=sugar, days=days, today=FIRST_MONDAY)

    assert [fact.cells[0] for fact in picture.facts] == [f"{day.day:%a} {day.day.day} {day.day:%b %Y}" for day in days]  # fmt: skip
    assert len(picture.drawing.boxes) == len([day for day in days if day.short])


def test_page_shows_the_picture_with_its_words_and_its_table(picture):
    html = render_to_string("components/_picture.html", {"picture": picture})

    assert "<desc" in html
    assert html.count(picture.finding) == 2
    assert html.count('<tr role="row">') == 5
