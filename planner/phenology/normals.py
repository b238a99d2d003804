"""Which months' means can a house without a long record of its own begin with?"""

import csv
from dataclasses import dataclass
from functools import cache
from itertools import dropwhile
from pathlib import Path

TABLE = Path(__file__).resolve().parent.parent / "data" / "normals.csv"
SOURCE = "computed from the Met Office's historic station files, 1991-2020"
MONTHS = ("jan", "feb", "mar", "apr", "may", "jun", "jul", "aug", "sep", "oct", "nov", "dec")
# The usual fall of temperature with height, degrees Celsius for 100 m; from memory.
LAPSE_C_PER_100_M = 0.6


@dataclass(frozen=True)
class Normals:
    """A station's monthly lowest and highest temperatures, January first, in degrees Celsius."""

    name: str
    latitude: float | None
    height_m: float
    lows_c: tuple[float, ...]
    highs_c: tuple[float, ...]


@cache
def stations() -> dict[str, Normals]:
    """The stations of the packaged table by name."""
    lines = dropwhile(lambda line: line.startswith("#"), TABLE.read_text("utf-8").splitlines())
    return {row["name"]: _normals(row) for row in csv.DictReader(lines)}


def _normals(row: dict[str, str]) -> Normals:
    return Normals(
        row["name"],
        float(row["latitude"]) if row["latitude"] else None,
        float(row["height_m"]),
        tuple(float(row[f"low_{month}"]) for month in MONTHS),
        tuple(float(row[f"high_{month}"]) for month in MONTHS),
    )


def at_height(temperature_c: float, *, from_m: float, to_m: float) -> float:
    """A temperature brought from one height to another: 0.6 °C less for every 100 m up."""
    return temperature_c - LAPSE_C_PER_100_M * (to_m - from_m) / 100
