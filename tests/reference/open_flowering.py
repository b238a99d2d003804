"""Blueberry bushes of one wood, 1990 to 2001, with the daily temperatures there.

The files come with the package pyPhenology (MIT): one site at 42.54 N, four bushes each for budburst
and first open flower. They are read as they lie; the package itself is not run.
"""

import csv
from collections import defaultdict
from importlib.util import find_spec
from pathlib import Path

PHASES = {"371": "budburst", "501": "flowers"}
SPRING = {"budburst", "flowers"}


def _rows(name: str) -> list[dict[str, str]]:
    [folder] = find_spec("pyPhenology").submodule_search_locations
    with (Path(folder) / "data" / name).open(encoding="utf-8") as file:
        return list(csv.DictReader(file))


def temperatures() -> dict[int, dict[int, float]]:
    """Daily means by year and day number; the autumn before a year is put into its own year."""
    found: dict[int, dict[int, float]] = defaultdict(dict)
    for row in _rows("vaccinium_temperature.csv"):
        year, day = int(row["year"]), int(row["doy"])
        before = day < 1
        found[year - before][day + 365 * before] = float(row["temperature"])
    return dict(found)


def records(phase: str) -> list[tuple[int, int]]:
    """Every (year, day) of a phase."""
    rows = _rows("vaccinium_obs.csv")
    return [
        (int(row["year"]), int(row["doy"])) for row in rows if PHASES[row["phenophase"]] == phase
    ]


def bushes(phase: str) -> list[dict[int, int]]:
    """The day by year of each of four bushes; the earliest of a year is taken for the same bush."""
    by_year: dict[int, list[int]] = defaultdict(list)
    for year, day in records(phase):
        by_year[year].append(day)
    return [{year: sorted(days)[n] for year, days in by_year.items()} for n in range(4)]
