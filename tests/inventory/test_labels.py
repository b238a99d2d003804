"""Label sheets: where each label lies, what fits, which letters there are, and a code that is read back."""

import re
import shutil
import subprocess
import zlib

import pytest
from PIL import Image

from inventory.label_grid import GRIDS, Grid
from inventory.labels import Label, sheet
from inventory.refusals import Refusal

MM_PER_POINT = 25.4 / 72
FIZZ = Label(
    "Gorse fizz 2026",
    ("Gorse flowers, white sugar, wine yeast", "Contains sulphites.", "GO260815-1"),
    "http://127.0.0.1:8000/cellar/12/",
)


def boxes(pdf):
    """The edges drawn on the first page, as (left, foot, width, height) in mm from the lower left."""
    streams = re.findall(rb"stream\n(.*?)\nendstream", pdf, re.DOTALL)
    drawn = b"\n".join(zlib.decompress(part) for part in streams if part[:1] == b"x")
    found = re.findall(rb"([\d.]+) ([\d.]+) ([\d.]+) (-?[\d.]+) re S", drawn)
    return [tuple(float(value) * MM_PER_POINT for value in row) for row in found]


@pytest.mark.parametrize("key", GRIDS)
def test_every_label_lies_within_half_a_millimetre_of_its_measures(key):
    grid = GRIDS[key]
    page_height = {"A4": 297.0, "Letter": 279.4}[grid.page]

    found = boxes(sheet([(Label("X", ()), grid.count)], grid=grid, outlines=True))

    assert len(found) == grid.count
    for (left, foot, width, height), (_, x, y) in zip(
        found, grid.places(first=1, count=grid.count), strict=True
    ):
        top = page_height - foot - max(0, height) if height > 0 else page_height - foot
        assert (left, top) == pytest.approx((x, y), abs=0.5)
        assert (width, abs(height)) == pytest.approx((grid.width, grid.height), abs=0.5)


def test_a_part_used_sheet_begins_at_the_first_free_place():
    grid = GRIDS["a4-3-7"]

    places = list(grid.places(first=20, count=4))

    assert [sheet_number for sheet_number, _, _ in places] == [0, 0, 1, 1]
    assert places[0][1:] == pytest.approx((73.25, 243.75))
    assert places[2][1:] == pytest.approx((7.25, 15.15))


@pytest.mark.parametrize("first", [0, 22, -1])
def test_a_place_that_no_sheet_has_is_refused(first):
    with pytest.raises(Refusal, match="places 1 to 21") as refused:
        sheet([(FIZZ, 1)], grid=GRIDS["a4-3-7"], first=first)

    assert refused.value.field == "first"


@pytest.mark.parametrize("count", [0, 1001])
def test_no_label_or_too_many_are_refused(count):
    with pytest.raises(Refusal, match="1 to 1000 labels"):
        sheet([(FIZZ, count)], grid=GRIDS["a4-3-7"])


def test_a_long_text_is_set_smaller_until_it_is_refused():
    line = "Elderflowers of three hedges, lemons, white sugar and a little patience. "
    grid = GRIDS["a4-3-7"]
    assert sheet([(Label("Long", (line * 3,)), 1)], grid=grid)

    with pytest.raises(Refusal, match="“Long” says more than a label of 63.5 by 38.1 mm holds"):
        sheet([(Label("Long", (line * 40,)), 1)], grid=grid)


def test_one_word_wider_than_a_label_is_refused_not_broken():
    with pytest.raises(Refusal, match="says more than"):
        sheet([(Label("W" * 60, ()), 1)], grid=GRIDS["letter-3-10"])


@pytest.mark.parametrize(
    "name", ["Holunderblütensekt für Åse", "Сидр з яблук", "Μηλίτης", "Rượu táo"]
)
def test_names_in_other_letters_are_set(name):
    assert sheet([(Label(name, ()), 1)], grid=GRIDS["a4-2-7"]).startswith(b"%PDF")


def test_letters_that_the_font_lacks_are_named():
    with pytest.raises(Refusal, match="lacks these letters: 梅 酒"):
        sheet([(Label("梅酒", ()), 1)], grid=GRIDS["a4-2-7"])


def test_a_grid_wider_than_its_page_cannot_be():
    with pytest.raises(ValueError, match="do not lie on A4"):
        Grid("A4", 4, 7, 63.5, 38.1, 7.25, 15.15)


@pytest.mark.skipif(
    not (shutil.which("zbarimg") and shutil.which("pdftoppm")), reason="no reader of codes here"
)
def test_every_code_is_read_back_from_the_printed_sheet(tmp_path):
    path = tmp_path / "sheet.pdf"
    path.write_bytes(sheet([(FIZZ, 24)], grid=GRIDS["a4-3-8"]))
    subprocess.run(["pdftoppm", "-r", "200", "-png", path, tmp_path / "page"], check=True)

    said = subprocess.run(
        ["zbarimg", "-q", "--raw", tmp_path / "page-1.png"],
        capture_output=True,
        text=True,
        check=True,
    )

    assert said.stdout.splitlines() == [FIZZ.address] * 24


def test_a_picture_of_its_own_stands_on_the_label(tmp_path):
    path = tmp_path / "own.jpg"
    Image.new("RGB", (320, 240), (20, 90, 40)).save(path)
    with_picture = Label("Gorse fizz", ("Filled 15 Aug 2026",), "http://127.0.0.1/cellar/1/", path)

    pdf = sheet([(with_picture, 2)], grid=GRIDS["a4-2-4"])

    assert pdf.count(b"/Subtype /Image") >= 2


def test_a_picture_leaves_no_room_on_a_narrow_label(tmp_path):
    path = tmp_path / "own.jpg"
    Image.new("RGB", (320, 240)).save(path)
    narrow = Label("Gorse fizz of the upper hedge", ("word " * 60,), "http://127.0.0.1/", path)

    with pytest.raises(Refusal, match="says more than a label"):
        sheet([(narrow, 1)], grid=GRIDS["letter-3-10"])
