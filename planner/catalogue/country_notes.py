"""What does a country say about gathering such a plant? Reminders with a day and a source; pure.

They are no legal advice, and no list of them is whole.
"""

import csv
import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from functools import cache
from importlib import resources

EVERYWHERE = "*"


@dataclass(frozen=True)
class CountryNote:
    """One reminder: for which country and legal classes, in words, from where, noted on which day."""

    country: str
    classes: frozenset[str]
    words: str
    source: str
    noted: dt.date


def notes_for(country: str, legal_class: str) -> list[CountryNote]:
    """What is noted for plants of a legal class in a country; the general reminder comes last."""
    wanted = (country.upper(), EVERYWHERE)
    return [note for note in _all() if note.country in wanted and legal_class in note.classes]


def read_notes(lines: Iterable[str]) -> list[CountryNote]:
    """Raises ValueError where a row lacks its words, its source or its day."""
    found = []
    for number, row in enumerate(csv.DictReader(lines), start=2):
        if not (row["country"] and row["words"] and row["source"]):
            raise ValueError(f"row {number}: country, words and source are wanted")
        noted = dt.date.fromisoformat(row["noted"])
        classes = frozenset(row["classes"].split("|"))
        found.append(CountryNote(row["country"], classes, row["words"], row["source"], noted))
    return found


@cache
def _all() -> list[CountryNote]:
    file = resources.files("planner") / "data" / "country_notes.csv"
    return read_notes(file.read_text(encoding="utf-8").splitlines())
