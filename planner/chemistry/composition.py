"""What is in a fruit, honey or sap, as far as print tells? All of it taken on trust."""

import csv
from dataclasses import dataclass
from functools import lru_cache
from pathlib import Path

from planner.chemistry.figure import Figure, trusted, unknown

TABLE = Path(__file__).resolve().parent.parent / "data" / "composition.csv"


@dataclass(frozen=True, slots=True)
class Composition:
    """One row: grams per 100 g, pH, grams in a US cup, where found, and read there or not."""

    item: str
    fruit: str
    water: Figure
    sugar: Figure
    acid: Figure
    acid_as: str
    ph: Figure
    g_per_us_cup: Figure
    source: str
    read: bool
    note: str


def _number(text: str) -> float | None:
    return float(text) if text else None


def _figure(
    source: str, unit: str, value: float | None, low: float | None, high: float | None
) -> Figure:
    if value is None:
        return unknown(unit, source=source, low=low, high=high)
    return trusted(value, unit, source=source, low=low, high=high)


def _composition(row: dict[str, str]) -> Composition:
    source = row["source"]

    def share(name: str) -> Figure:
        numbers = (
            _number(row.get(key, ""))
            for key in (f"{name}_g_per_100g", f"{name}_low", f"{name}_high")
        )
        return _figure(source, "g/100 g", *numbers)

    low, high = _number(row["ph_low"]), _number(row["ph_high"])
    return Composition(
        item=row["item"],
        fruit=row["fruit"],
        water=share("water"),
        sugar=share("sugar"),
        acid=share("acid"),
        acid_as=row["acid_as"],
        ph=_figure(source, "pH", low if low == high else None, low, high),
        g_per_us_cup=_figure(source, "g", _number(row["g_per_us_cup"]), None, None),
        source=source,
        read=row["confidence"] == "read",
        note=row["note"],
    )


@lru_cache(maxsize=1)
def compositions() -> dict[str, Composition]:
    """Every row of the packaged table by its item."""
    with TABLE.open(encoding="utf-8", newline="") as lines:
        found = [_composition(row) for row in csv.DictReader(lines)]
    return {composition.item: composition for composition in found}


def composition_of(item: str) -> Composition | None:
    """The row for an item, or None where print tells nothing."""
    return compositions().get(item)


def sugar_of_fruit(fruit: str) -> Figure:
    """Sugar of a fruit with the span of all its rows, so that disagreement in print shows."""
    rows = [found.sugar for found in compositions().values() if found.fruit == fruit]
    if not rows:
        return unknown("g/100 g")
    marks = [mark for row in rows for mark in (row.value, row.low, row.high) if mark is not None]
    values = [row for row in rows if row.is_known]
    if not values:
        return unknown("g/100 g", source=rows[0].source, low=min(marks), high=max(marks))
    return trusted(
        values[0].value, "g/100 g", source=values[0].source, low=min(marks), high=max(marks)
    )
