"""Any list as a file for a spreadsheet, with nothing in it that a spreadsheet would run."""

import csv
from html import unescape

from django.http import HttpResponse
from django.utils.html import strip_tags
from django.utils.safestring import SafeString

from inventory import clock
from inventory.table_parts import HouseTable

# A cell that begins so is read as a formula, or hides one (OWASP, "CSV Injection"); the apostrophe
# itself is in the list so that it can be taken off again without doubt.
STARTS_A_FORMULA = ("=", "+", "-", "@", "\t", "\r", "'")


def csv_response(table: HouseTable, name: str) -> HttpResponse:
    """Every row of the table, not only the page shown, in its order; all cells quoted."""
    response = HttpResponse(content_type="text/csv; charset=utf-8")
    file_name = f"{name}-{clock.today().isoformat()}.csv"
    response["Content-Disposition"] = f'attachment; filename="{file_name}"'
    writer = csv.writer(response, quoting=csv.QUOTE_ALL)
    for row in table.as_values():
        writer.writerow([harmless(cell) for cell in row])
    return response


def harmless(cell) -> str:
    """The text of a cell, with an apostrophe before what a spreadsheet would run."""
    text = "" if cell is None else str(cell)
    if isinstance(cell, SafeString):
        text = unescape(strip_tags(text))
    return f"'{text}" if text.startswith(STARTS_A_FORMULA) else text
