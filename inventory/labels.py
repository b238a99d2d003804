"""A sheet of labels as PDF: names, contents, warnings, and a code that leads to the bottle's page.

What does not fit is set smaller, down to a size that can still be read; if it does not fit then, the
sheet is refused with the reason. Letters that the font lacks are named, never left out silently.
"""

import io
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from functools import cache
from pathlib import Path

import segno
from fontTools.ttLib import TTFont
from fpdf import FPDF

from inventory.label_grid import PADDING, PAGES, Grid
from inventory.refusals import Refusal

FONTS = Path(__file__).parent / "data" / "fonts"
FAMILY = "house"
# Points. Below five nobody reads it with a bottle in hand; common practice, no source.
LARGEST, SMALLEST, STEP = 9.0, 5.0, 0.25
NAME_TIMES = 1.35
LINE = 1.18
MM_PER_POINT = 25.4 / 72
# A code of 14 mm at level M was read at 200 dpi in a trial.
CODE_MM = 16.0
MOST_LABELS = 1000


@dataclass(frozen=True)
class Label:
    """What one kind of label says: its name, lines below it, and the address of its code."""

    name: str
    lines: tuple[str, ...]
    address: str = ""
    picture: Path | None = None


@dataclass(frozen=True)
class Set:
    """How a label is set: the size of its text in points, and the side of its code in mm."""

    points: float
    code_mm: float


def sheet(
    labels: Sequence[tuple[Label, int]], *, grid: Grid, first: int = 1, outlines: bool = False
) -> bytes:
    """The PDF of so many of each label, from the first free place on.

    Raises Refusal where a text does not fit, a letter is lacking, or nothing is to be printed.
    """
    wanted = [(label, count) for label, count in labels if count > 0]
    total = sum(count for _, count in wanted)
    if not 1 <= total <= MOST_LABELS:
        raise Refusal(f"Print 1 to {MOST_LABELS} labels at once, not {total}.", field="first")
    if not 1 <= first <= grid.count:
        raise Refusal(f"A sheet has the places 1 to {grid.count}.", field="first")
    refuse_lacking_letters(label for label, _ in wanted)
    pdf, scratch = _new(grid), _new(grid)
    scratch.add_page()
    sets = {id(label): fitted(scratch, label, grid) for label, _ in wanted}
    each = [label for label, count in wanted for _ in range(count)]
    places = list(grid.places(first=first, count=total))
    for number in range(places[-1][0] + 1):
        pdf.add_page()
        for label, (sheet_number, left, top) in zip(each, places, strict=True):
            if sheet_number == number:
                _draw(pdf, label, sets[id(label)], grid, left, top, outlines)
    return bytes(pdf.output())


def fitted(pdf: FPDF, label: Label, grid: Grid) -> Set:
    """The largest size at which a label fits; refuses, with its name, where none does."""
    code = min(CODE_MM, grid.height - 2 * PADDING) if label.address else 0.0
    points = LARGEST
    while points >= SMALLEST:
        if _height(pdf, label, points, _text_width(grid, code, label)) <= grid.height - 2 * PADDING:
            return Set(points, code)
        points -= STEP
    raise Refusal(
        f"“{label.name}” says more than a label of {grid.width:g} by {grid.height:g} mm holds at "
        f"{SMALLEST:g} points; take a larger label or say less.",
        field="grid",
    )


def refuse_lacking_letters(labels: Iterable[Label]) -> None:
    """Refuse letters that the font has no shape for, naming them."""
    known = _letters()
    lacking = sorted(
        {
            letter
            for label in labels
            for text in (label.name, *label.lines)
            for letter in text
            if ord(letter) not in known and not letter.isspace()
        }
    )
    if lacking:
        raise Refusal(
            f"The font of the labels lacks these letters: {' '.join(lacking[:20])}. Write the name in "
            "others for the label.",
            field="name",
        )


@cache
def _letters() -> frozenset[int]:
    with TTFont(FONTS / "NotoSans-Regular.ttf", lazy=True) as font:
        return frozenset(font.getBestCmap())


def _new(grid: Grid) -> FPDF:
    pdf = FPDF(unit="mm", format=PAGES[grid.page])
    pdf.set_margin(0)
    pdf.set_auto_page_break(False)
    pdf.c_margin = 0
    pdf.add_font(FAMILY, "", FONTS / "NotoSans-Regular.ttf")
    pdf.add_font(FAMILY, "B", FONTS / "NotoSans-Bold.ttf")
    pdf.set_lang("en")
    return pdf


def _text_width(grid: Grid, code: float, label: Label) -> float:
    beside = code + PADDING if code else 0.0
    if label.picture:
        beside += grid.height - 2 * PADDING + PADDING
    return grid.width - 2 * PADDING - beside


def _height(pdf: FPDF, label: Label, points: float, width: float) -> float:
    if width < 10:
        return float("inf")
    total = _block(pdf, label.name, points * NAME_TIMES, "B", width)
    return total + sum(_block(pdf, text, points, "", width) for text in label.lines)


def _block(pdf: FPDF, text: str, points: float, style: str, width: float) -> float:
    """The height of a text in lines of that width; a word that is wider than a line fits nowhere."""
    pdf.set_font(FAMILY, style, points)
    if any(pdf.get_string_width(word) > width for word in text.split()):
        return float("inf")
    line = points * MM_PER_POINT * LINE
    found = pdf.multi_cell(width, line, text, align="L", dry_run=True, output="LINES")
    return line * len(found)


def _draw(
    pdf: FPDF, label: Label, how: Set, grid: Grid, left: float, top: float, outlines: bool
) -> None:
    if outlines:
        pdf.set_draw_color(170)
        pdf.set_line_width(0.1)
        pdf.rect(left, top, grid.width, grid.height)
    x, y = left + PADDING, top + PADDING
    side = grid.height - 2 * PADDING
    if label.picture:
        pdf.image(str(label.picture), x, y, side, side, keep_aspect_ratio=True)
        x += side + PADDING
    width = _text_width(grid, how.code_mm, label)
    for text, points, style in (
        (label.name, how.points * NAME_TIMES, "B"),
        *((line, how.points, "") for line in label.lines),
    ):
        pdf.set_font(FAMILY, style, points)
        line = points * MM_PER_POINT * LINE
        pdf.set_xy(x, y)
        pdf.multi_cell(width, line, text, align="L", new_x="LEFT", new_y="NEXT")
        y = pdf.get_y()
    if how.code_mm:
        edge = left + grid.width - PADDING - how.code_mm
        pdf.image(_code(label.address), edge, top + PADDING, how.code_mm, how.code_mm)


def _code(address: str) -> io.BytesIO:
    """The address as a code with its quiet border, in black on white."""
    drawn = io.BytesIO()
    segno.make(address, error="m", micro=False).save(drawn, kind="png", scale=8, border=2)
    drawn.seek(0)
    return drawn
