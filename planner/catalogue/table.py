"""How is the table of plants read, and what is wrong with it where it cannot be?

A cell that is not a number or a plain range is kept as words and never guessed at.
"""

import csv
import re
from collections.abc import Iterable, Iterator, Mapping
from enum import StrEnum
from functools import cache
from itertools import takewhile
from pathlib import Path
from types import MappingProxyType
from typing import TypeVar

from planner.catalogue.plants import CataloguePlant, Cell, Dose, DoseBasis, LegalClass
from planner.phenology import Place, Window

_TABLE = Path(__file__).parent.parent / "data" / "forage_catalogue.csv"
_RANGE = re.compile(r"([0-9]+(?:\.[0-9]+)?)(?:-([0-9]+(?:\.[0-9]+)?))?")
_WHOLE = re.compile(r"-?[0-9]{1,4}")
_PLACE = re.compile(
    r"(?P<name>.+?) (?P<north>[0-9]+(\.[0-9]+)?)N (?P<side>[0-9]+(\.[0-9]+)?)(?P<half>[EW]) "
    r"(?P<height>[0-9]+) m"
    r"(?:, (?P<normals>.+))?"
)
_FURTHER_DOSE = re.compile(r"(?P<range>[0-9.]+-[0-9.]+) (?P<basis>.+)")
_BASES = {
    "per L must": DoseBasis.MUST,
    "g per L must": DoseBasis.MUST,
    "per L must or syrup": DoseBasis.MUST_OR_SYRUP,
    "per L syrup": DoseBasis.SYRUP,
    "per L wort": DoseBasis.WORT,
    "per L spirit": DoseBasis.SPIRIT,
    "per L wine": DoseBasis.WINE,
    "g per L juice": DoseBasis.JUICE,
    "mL per L (used as the water)": DoseBasis.SAP_AS_WATER,
    "per L": DoseBasis.LITRE,
}
_NOT_OFFERED = "not offered"
# Groups of values that always name a source, and those that do so when they hold a value.
_SOURCED = ("window", "bbch", "cue", "shelf", "yield", "dose", "hazard", "legal")
_SOURCED_IF_FILLED = {
    "sugar": "sugar_g_per_100g",
    "acid": "acid_g_per_100g",
    "tannin": "tannin_note",
    "aliases": "aliases",
}
_COLUMNS = frozenset(
    [
        "id",
        "common_name",
        "latin_name",
        "part",
        "use_class",
        "reference_place",
        "first_doy",
        "peak_doy",
        "last_doy",
        "wraps_year",
        "window_src",
        "bbch",
        "bbch_name",
        "bbch_src",
        "cue_event",
        "cue_lag_days",
        "cue_src",
        "shelf_room_days",
        "shelf_fridge_days",
        "shelf_freezer_months",
        "shelf_src",
        "net_yield_pct",
        "yield_src",
        "dose_min_g_per_l",
        "dose_max_g_per_l",
        "dose_basis",
        "dose_src",
        "sugar_g_per_100g",
        "sugar_src",
        "acid_g_per_100g",
        "acid_src",
        "tannin_note",
        "tannin_src",
        "hazard_level",
        "hazard_text",
        "lookalikes",
        "hazard_src",
        "legal_class",
        "legal_note",
        "legal_src",
        "notes",
        "aliases",
        "aliases_src",
    ]
)

Choice = TypeVar("Choice", bound=StrEnum)


class CatalogueError(ValueError):
    """A table that cannot be read; the message names line, row and column."""

    def __init__(self, problem: str, *, line: int, row: str, column: str):
        super().__init__(f"Line {line}, row {row or '?'}, column {column or '?'}: {problem}")
        self.line, self.row, self.column = line, row, column


@cache
def catalogue() -> tuple[CataloguePlant, ...]:
    """All plants of the table that comes with the program, in its order; read once."""
    return read_catalogue(_TABLE.read_text(encoding="utf-8-sig").splitlines())


def read_catalogue(lines: Iterable[str]) -> tuple[CataloguePlant, ...]:
    """Every row as a plant; lines that begin with # before the heading are remarks."""
    seen: dict[str, CataloguePlant] = {}
    for row in _rows(list(lines)):
        plant = _plant(row)
        if plant.key in seen:
            raise row.error("id", "this key stands twice.")
        seen[plant.key] = plant
    return tuple(seen.values())


class _Row:
    """The cells of one line, read with errors that say where."""

    def __init__(self, line: int, cells: dict[str, str]):
        self.line, self.cells = line, cells

    def error(self, column: str, problem: str) -> CatalogueError:
        return CatalogueError(problem, line=self.line, row=self.cells["id"], column=column)

    def words(self, column: str) -> str:
        """The cell, a lone dash read as nothing."""
        text = self.cells[column].strip()
        return "" if text == "-" else text

    def filled(self, column: str) -> str:
        text = self.words(column)
        if not text:
            raise self.error(column, "this cell must not be empty.")
        return text

    def listed(self, column: str) -> tuple[str, ...]:
        return tuple(part.strip() for part in self.words(column).split(";") if part.strip())

    def whole(self, column: str, least: int, most: int) -> int:
        text = self.words(column)
        if not (_WHOLE.fullmatch(text) and least <= int(text) <= most):
            raise self.error(column, f"{text!r} is not a whole number from {least} to {most}.")
        return int(text)

    def choice(self, column: str, choices: type[Choice]) -> Choice:
        text = self.words(column)
        if text not in {choice.value for choice in choices}:
            raise self.error(column, f"{text!r} is not one of {', '.join(choices)}.")
        return choices(text)

    def cell(self, column: str, group: str) -> Cell:
        text = self.words(column)
        low, high = self.bounds(column, text) if _RANGE.fullmatch(text) else (None, None)
        return Cell(text=text, low=low, high=high, source=self.words(f"{group}_src"))

    def bounds(self, column: str, text: str) -> tuple[float, float]:
        match = _RANGE.fullmatch(text)
        if not match:
            raise self.error(column, f"{text!r} is not a number or a range.")
        low, high = float(match[1]), float(match[2] or match[1])
        if low > high:
            raise self.error(column, f"{text!r} runs downwards.")
        return low, high


def _rows(lines: list[str]) -> Iterator[_Row]:
    remarks = sum(1 for _ in takewhile(lambda line: line.startswith("#"), lines))
    reader = csv.reader(lines[remarks:], strict=True)
    try:
        heading = next(reader, [])
        _check_heading(heading, remarks + 1)
        for values in reader:
            line = remarks + reader.line_num
            if len(values) != len(heading):
                raise CatalogueError(
                    f"{len(values)} cells under {len(heading)} headings.",
                    line=line,
                    row=values[0] if values else "",
                    column="",
                )
            yield _Row(line, dict(zip(heading, values, strict=True)))
    except csv.Error as broken:
        line = remarks + reader.line_num
        raise CatalogueError(f"{broken}.", line=line, row="", column="") from broken


def _check_heading(heading: list[str], line: int) -> None:
    missing, unknown = sorted(_COLUMNS - set(heading)), sorted(set(heading) - _COLUMNS)
    twice = sorted({column for column in heading if heading.count(column) > 1})
    for problem, columns in (("missing", missing), ("unknown", unknown), ("given twice", twice)):
        if columns:
            raise CatalogueError(
                f"this heading is {problem}.", line=line, row="heading", column=columns[0]
            )


def _plant(row: _Row) -> CataloguePlant:
    plant = CataloguePlant(
        key=row.filled("id"),
        common_name=row.filled("common_name"),
        latin_name=row.filled("latin_name"),
        part=row.filled("part"),
        uses=() if row.words("use_class") == "none" else row.listed("use_class"),
        aliases=row.listed("aliases"),
        place=_place(row),
        place_text=row.filled("reference_place"),
        window=_window(row),
        bbch=row.filled("bbch"),
        bbch_name=row.filled("bbch_name"),
        cue_event=row.filled("cue_event"),
        cue_lag_days=row.whole("cue_lag_days", -365, 365),
        room_days=row.cell("shelf_room_days", "shelf"),
        fridge_days=row.cell("shelf_fridge_days", "shelf"),
        freezer_months=row.cell("shelf_freezer_months", "shelf"),
        net_yield_percent=_percent(row),
        doses=_doses(row),
        dose_text=_dose_text(row),
        sugar_g_per_100g=row.cell("sugar_g_per_100g", "sugar"),
        acid_g_per_100g=row.cell("acid_g_per_100g", "acid"),
        tannin=row.words("tannin_note"),
        hazard_level=row.whole("hazard_level", 0, 4),
        hazard_text=row.words("hazard_text"),
        look_alikes=row.words("lookalikes"),
        legal_class=row.choice("legal_class", LegalClass),
        legal_note=row.filled("legal_note"),
        notes=row.words("notes"),
        sources=_sources(row),
    )
    _check_warnings(row, plant)
    return plant


def _place(row: _Row) -> Place:
    text = row.filled("reference_place")
    match = _PLACE.fullmatch(text)
    if not match:
        raise row.error("reference_place", f"{text!r} gives no degrees and height.")
    east = float(match["side"]) * (1 if match["half"] == "E" else -1)
    try:
        return Place(
            latitude=float(match["north"]),
            longitude=east,
            height_m=float(match["height"]),
            name=match["name"],
            normals=match["normals"] or "",
        )
    except ValueError as problem:
        raise row.error("reference_place", str(problem)) from problem


def _window(row: _Row) -> Window:
    days = [row.whole(f"{name}_doy", 1, 365) for name in ("first", "peak", "last")]
    wraps = row.words("wraps_year")
    if wraps not in ("yes", "no"):
        raise row.error("wraps_year", f"{wraps!r} is neither yes nor no.")
    try:
        return Window(*days, wraps=wraps == "yes")
    except ValueError as problem:
        column = "wraps_year" if "New Year" in str(problem) else "peak_doy"
        raise row.error(column, str(problem)) from problem


def _percent(row: _Row) -> Cell:
    cell = row.cell("net_yield_pct", "yield")
    if cell.text and not (cell.is_known and cell.low > 0 and cell.high <= 100):
        raise row.error("net_yield_pct", f"{cell.text!r} is not a percentage.")
    return cell


def _doses(row: _Row) -> tuple[Dose, ...]:
    """The dose of the first basis, and any further ones written out after it."""
    if row.words("dose_basis") == _NOT_OFFERED:
        return ()
    basis, *further = row.listed("dose_basis") or ("",)
    least, most = row.words("dose_min_g_per_l"), row.words("dose_max_g_per_l")
    low, _ = row.bounds("dose_min_g_per_l", least)
    _, high = row.bounds("dose_max_g_per_l", most)
    if low > high:
        raise row.error("dose_max_g_per_l", f"{most} is less than the least dose, {least}.")
    return (Dose(low, high, _basis(row, basis)), *(_further(row, part) for part in further))


def _further(row: _Row, part: str) -> Dose:
    match = _FURTHER_DOSE.fullmatch(part)
    if not match:
        raise row.error("dose_basis", f"{part!r} is not a range and a basis.")
    return Dose(*row.bounds("dose_basis", match["range"]), _basis(row, match["basis"]))


def _basis(row: _Row, text: str) -> DoseBasis:
    if text not in _BASES:
        raise row.error("dose_basis", f"{text!r} is not a known basis.")
    return _BASES[text]


def _dose_text(row: _Row) -> str:
    basis = row.filled("dose_basis")
    if basis == _NOT_OFFERED:
        return basis
    least, most = row.words("dose_min_g_per_l"), row.words("dose_max_g_per_l")
    amount = least if least == most else f"{least}-{most}"
    return f"{amount} {basis if basis.startswith(('g ', 'mL ')) else f'g {basis}'}"


def _sources(row: _Row) -> Mapping[str, str]:
    """Group of values to the text of its source, without the groups that hold nothing."""
    sources = {group: row.filled(f"{group}_src") for group in _SOURCED}
    for group, column in _SOURCED_IF_FILLED.items():
        if row.words(column):
            sources[group] = row.filled(f"{group}_src")
    return MappingProxyType(sources)


def _check_warnings(row: _Row, plant: CataloguePlant) -> None:
    if plant.must_not_be_used != (not plant.doses):
        raise row.error("dose_basis", f"does not fit the legal class {plant.legal_class}.")
    if plant.hazard_level >= 4 and not plant.look_alikes:
        raise row.error("lookalikes", "a row of hazard level 4 must say what it is taken for.")
    if plant.hazard_level >= 3 and not (plant.hazard_text or plant.look_alikes):
        raise row.error("hazard_text", "a row of hazard level 3 must say why.")
