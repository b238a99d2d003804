"""A table with headings: which columns are the day, the lowest and the highest temperature?"""

import csv
import datetime as dt
import re
from collections.abc import Mapping, Sequence

from inventory.refusals import Refusal
from planner.weather_files.found import Gathered

MARKS = (",", ";", "\t", "|")
# Headings without blanks, units and marks, as services and people write them; from memory.
NAMES = {
    "day": ("date", "day", "time", "datum", "data", "messdatum", "fecha", "yyyymmdd"),
    "year": ("year", "yyyy", "yr", "jahr"),
    "month": ("month", "mm", "mon", "monat"),
    "of_month": ("dd", "dayofmonth", "tag"),
    "low": (
        "tmin", "min", "mint", "tn", "tnk", "low", "lowest", "minimum", "mintemp",
        "temperature2mmin", "mintemperature", "minimumtemperature", "minairtemperature",
    ),
    "high": (
        "tmax", "max", "maxt", "tx", "txk", "high", "highest", "maximum", "maxtemp",
        "temperature2mmax", "maxtemperature", "maximumtemperature", "maxairtemperature",
    ),
}  # fmt: skip
FAHRENHEIT = re.compile(r"\(?°?\s*f(ahrenheit)?\)?$", re.IGNORECASE)
UNIT = re.compile(r"\([^)]*\)|\[[^]]*\]|°\s*[cf]\b", re.IGNORECASE)
MISSING = {"", "---", "--", "-", "na", "n/a", "nan", "null", "none", "-9999", "-999", "-99.9", "m"}
NUMBER = re.compile(r"[+-]?[0-9]{1,5}(?:[.,][0-9]{1,4})?")
YEAR_FIRST = re.compile(r"(\d{4})[-./]?(\d{2})[-./]?(\d{2})(?:[T ].*)?")
YEAR_LAST = re.compile(r"(\d{1,2})[-./](\d{1,2})[-./](\d{4})")
HEADING_WITHIN = 80
# A guard: no row of a day is so long.
LONGEST_LINE = 5000


def read_plain(lines: Sequence[str]) -> Gathered:
    """A table by its headings; raises Refusal that names the columns it found and wants."""
    start, mark, columns = _heading(lines)
    found = Gathered("a table with headings")
    headings = _cells(lines[start], mark)
    rows = [cells for cells in (_cells(line, mark) for line in lines[start + 1 :]) if any(cells)]
    day_first = _is_day_first(rows, columns)
    if day_first is None:
        found.remarks.append("Its days can be read either way; the day is taken to come first.")
    for cells in rows:
        if len(cells) <= max(columns.values()):
            found.left_out["are lines with too few columns"] += 1
            continue
        day = _day(cells, columns, day_first is not False)
        if day is None:
            found.left_out["stand on a day that cannot be read"] += 1
            continue
        for part, held in (("low", found.lows), ("high", found.highs)):
            if part in columns:
                _take(found, held, day, cells[columns[part]], headings[columns[part]])
    return found


def _take(
    found: Gathered, held: dict[dt.date, float], day: dt.date, text: str, heading: str
) -> None:
    text = text.strip().rstrip("*#")
    if text.casefold() in MISSING:
        return
    if not NUMBER.fullmatch(text):
        found.left_out["are no numbers"] += 1
        return
    value = float(text.replace(",", "."))
    if FAHRENHEIT.search(heading.strip()):
        value = (value - 32) / 1.8
    found.take(held, day, value)


def _heading(lines: Sequence[str]) -> tuple[int, str, dict[str, int]]:
    """The line of the headings, what parts its cells, and the column of each part."""
    best: dict[str, int] = {}
    for number, line in enumerate(lines[:HEADING_WITHIN]):
        for mark in MARKS:
            columns = _columns(_cells(line, mark))
            dated = "day" in columns or {"year", "month", "of_month"} <= columns.keys()
            if dated and ("low" in columns or "high" in columns):
                return number, mark, columns
            best = max(best, columns, key=len)
    seen = next((line.strip()[:80] for line in lines if line.strip()), "")
    there = ", ".join(sorted(best)) or "none of them"
    raise Refusal(
        "This is no weather file that is known here. Wanted: a line of headings with a date and "
        f"the lowest and highest temperature, such as date,tmin,tmax. Found: {there}. "
        f"It begins “{seen}”.",
        field="file",
    )


def _columns(headings: Sequence[str]) -> dict[str, int]:
    found: dict[str, int] = {}
    for n, heading in enumerate(headings):
        plain = re.sub(r"[^a-z0-9]", "", UNIT.sub("", heading).casefold())
        for part, names in NAMES.items():
            if plain in names and part not in found:
                found[part] = n
    return found


def _cells(line: str, mark: str) -> list[str]:
    if len(line) > LONGEST_LINE:
        return []
    return [cell.strip() for cell in next(csv.reader([line], delimiter=mark), [])]


def _is_day_first(rows: Sequence[Sequence[str]], columns: Mapping[str, int]) -> bool | None:
    """Whether 3/4/2026 is 3 April; none where every date can be read either way."""
    if "day" not in columns:
        return True
    found = [
        match
        for cells in rows
        if len(cells) > columns["day"] and (match := YEAR_LAST.fullmatch(cells[columns["day"]]))
    ]
    if not found:
        return True
    if any(int(match[1]) > 12 for match in found):
        return True
    return False if any(int(match[2]) > 12 for match in found) else None


def _day(cells: Sequence[str], columns: Mapping[str, int], day_first: bool) -> dt.date | None:
    if "day" not in columns:
        parts = [cells[columns[name]] for name in ("year", "month", "of_month")]
    elif match := YEAR_FIRST.fullmatch(cells[columns["day"]]):
        parts = list(match.groups())
    elif match := YEAR_LAST.fullmatch(cells[columns["day"]]):
        day, month = (match[1], match[2]) if day_first else (match[2], match[1])
        parts = [match[3], month, day]
    else:
        return None
    try:
        return dt.date(*(int(part) for part in parts))
    except ValueError:
        return None
