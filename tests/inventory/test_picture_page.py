"""A picture on the page: named for those who cannot see it, without styles, every id once."""

import re

import pytest
from django.template import engines
from django.template.loader import render_to_string
from django.utils import translation

from inventory.pictures import (
    Axis,
    Bar,
    Fact,
    Key,
    Line,
    Picture,
    Plot,
    Row,
    draw_rows,
    value_axis,
)

AMOUNTS: Axis = value_axis(0, 30, lambda value: f"{value:.0f}", tight=True)
ROWS = (
    Row("Damson 2024", "22 bottles", bars=[Bar(0, 22.5, "hatched", title="22 of <30>")]),
    Row("Bramble 2025", "7 bottles", urgent=True, bars=[Bar(0, 7.25, "solid")]),
)


@pytest.fixture
def picture():
    return Picture(
        title="Bottles by batch",
        finding="Damson & bramble: 29 bottles.",
        drawing=draw_rows(ROWS, axis=AMOUNTS),
        head=("Batch", "Bottles"),
        facts=(Fact(("Damson 2024", "22"), "/batches/1/"), Fact(("Bramble 2025", "7"))),
        keys=(Key("box", "hatched", "going over"), Key("stroke", "reach", "a guess")),
    )


def page(*pictures):
    template = engines["django"].from_string(
        '{% for picture in pictures %}{% include "components/_picture.html" %}{% endfor %}'
    )
    return template.render({"pictures": pictures})


def test_drawing_is_named_by_its_title_and_its_finding(picture):
    html = page(picture)

    title, desc = re.search(r'role="img" aria-labelledby="(\S+) (\S+)"', html).groups()
    assert f'<title id="{title}">Bottles by batch</title>' in html
    assert f'<desc id="{desc}">Damson &amp; bramble: 29 bottles.</desc>' in html


def test_two_pictures_share_no_id(picture):
    ids = re.findall(r' id="([^"]+)"', page(picture, picture))

    assert len(ids) == 6
    assert len(set(ids)) == 6


def test_every_pattern_in_use_is_there(picture):
    html = page(picture)

    used = set(re.findall(r"url\(#([^)]+)\)", html))

    assert used == set(re.findall(r'<pattern id="([^"]+)"', html))
    assert len(used) == 1


def test_page_carries_no_style_and_no_script(picture):
    html = page(picture)

    assert "style=" not in html
    assert "<script" not in html


def test_language_with_a_decimal_comma_changes_no_number(picture):
    with translation.override("de"):
        html = page(picture)

    assert 'width="75%"' in html
    assert 'width="24.17%"' in html
    assert re.findall(r'(?:x|y|x1|x2|y1|y2|width|height|d)="[^"]*,[^"]*"', html) == []


def test_every_bar_stands_in_the_table(picture):
    html = page(picture)

    assert '<th scope="row" role="rowheader"><a href="/batches/1/">Damson 2024</a></th>' in html
    assert '<td role="cell" data-label="Bottles">22</td>' in html
    assert '<th scope="row" role="rowheader">Bramble 2025</th>' in html


def test_words_of_a_person_are_escaped(picture):
    assert "22 of &lt;30&gt;" in page(picture)


def test_curve_lies_in_a_field_that_stretches_and_its_letters_do_not():
    plot = Plot(across=AMOUNTS, up=AMOUNTS, lines=[Line("pressure", [(0, 3), (30, 30)])])
    picture = Picture("Pressure", "It rises.", plot.drawing(), ("°C",), ())

    html = render_to_string("components/_picture.html", {"picture": picture})

    assert 'viewBox="0 0 100 100" preserveAspectRatio="none"><path class="picture-line" d="M0 90 L100 0"/></svg>' in html  # fmt: skip
    assert html.count("viewBox") == 1


def test_table_with_a_missing_cell_is_refused(picture):
    with pytest.raises(ValueError, match="2 cells"):
        Picture("x", "y", picture.drawing, ("Batch", "Bottles"), (Fact(("Damson",)),))
