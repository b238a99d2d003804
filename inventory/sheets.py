"""A table that somebody pastes or brings: all of its rows are taken in, or none."""

import csv
from collections.abc import Callable, Sequence
from dataclasses import dataclass

from django.db import transaction

from inventory import glass, items, ledger
from inventory.exports import STARTS_A_FORMULA
from inventory.models import Person
from inventory.refusals import Refusal

MARKS = ("\t", ";", ",")
# More is work for a program, not for a look through; a judgement.
MOST_ROWS = 500
MOST_COLUMNS = 40
LONGEST_CELL = 4000
FORMULAS = tuple(mark for mark in STARTS_A_FORMULA if mark in "=+@")
WRITERS: dict[str, Callable] = {
    "items": items.add_item,
    "lots": ledger.receive,
    "glass": glass.bring_kind,
}


@dataclass(frozen=True)
class Cells:
    """The headings and the rows under them as they stand, each row with its number in the file."""

    headings: list[str]
    rows: list[tuple[int, list[str]]]


def read(text: str) -> Cells:
    """Cells of a table with tabs, semicolons or commas; raises Refusal that says what is wrong.

    A quote before a sign, as our own files carry it, is taken off; a formula is refused.
    """
    lines = text.replace("\x00", "").splitlines()
    if not any(line.strip() for line in lines):
        raise Refusal("The table is empty.", field="text")
    if len(lines) > MOST_ROWS + 1:
        raise Refusal(
            f"{len(lines) - 1} rows are more than the {MOST_ROWS} that can be looked through at "
            "once; bring them in parts.",
            field="text",
        )
    mark = max(MARKS, key=lines[0].count)
    try:
        rows = list(csv.reader(lines, delimiter=mark, strict=True))
    except csv.Error as wrong:
        raise Refusal(f"The table cannot be read: {wrong}.", field="text") from None
    numbered = [(n, [cell.strip() for cell in row]) for n, row in enumerate(rows, start=1)]
    kept = [(n, row) for n, row in numbered if any(row)]
    if max(len(row) for _, row in kept) > MOST_COLUMNS:
        raise Refusal(f"More than {MOST_COLUMNS} columns are no table of the store.", field="text")
    for n, row in kept:
        _refuse_formulas(n, row)
    (_, headings), *rest = kept
    return Cells(headings, [(n, [_plain(cell) for cell in row]) for n, row in rest])


def _refuse_formulas(number: int, row: Sequence[str]) -> None:
    for cell in row:
        if cell.startswith(FORMULAS):
            raise Refusal(f"Row {number}: “{cell[:30]}” is a formula, not a value.", field="text")
        if len(cell) > LONGEST_CELL:
            raise Refusal(f"Row {number}: a cell is too long.", field="text")


def _plain(cell: str) -> str:
    return cell[1:] if cell.startswith("'") and cell[1:2] in STARTS_A_FORMULA else cell


@transaction.atomic
def take_in(*, what: str, rows: Sequence[tuple[int, dict]], by: Person | None) -> int:
    """Write every row, given as its number and the values of its form; or none at all.

    Each leaves its own activity and can be undone by itself. Returns how many were written.
    """
    write = WRITERS[what]
    for number, values in rows:
        try:
            write(by=by, **values)
        except Refusal as refusal:
            raise Refusal(f"Row {number}: {refusal.message}", field="text") from None
    return len(rows)
