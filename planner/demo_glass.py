"""The glass of the demo house: what each kind is, and how much of it is not clean."""

import datetime as dt

from inventory import glass, units
from inventory.models import BottleType, CageType, ClosureType, Item, Person

NOT_CLEAN = ("dirty", "filled", "cracked")
VOLUMES = ("nominal", "brimful")


def describe(scene: dict, held: dict[str, Item], *, on: dt.date, by: Person) -> None:
    """Describe bottles, closures and cages, and bring in those that are not clean."""
    for row in scene["bottles"]:
        values = {key: row[key] for key in row if key not in ("item", *NOT_CLEAN, *VOLUMES)}
        values |= {key: units.parse_quantity(row[key], base="uL", name=key) for key in VOLUMES}
        item = held[row["item"]]
        glass.describe(item=item, model=BottleType, by=by, **values)
        _bring(item, row, on, by)
    for name, model in (("closures", ClosureType), ("cages", CageType)):
        for row in scene[name]:
            values = {key: row[key] for key in row if key != "item"}
            glass.describe(item=held[row["item"]], model=model, by=by, **values)


def _bring(item: Item, row: dict, on: dt.date, by: Person) -> None:
    move = {"item": item, "on": on, "by": by}
    dirty = row.get("dirty", 0) + row.get("cracked", 0)
    if dirty:
        glass.move(count=dirty, source=glass.OUTSIDE, target="dirty", **move)
    if row.get("cracked"):
        glass.move(count=row["cracked"], source="dirty", target="cracked", **move)
    if row.get("filled"):
        glass.move(count=row["filled"], source=glass.OUTSIDE, target="filled", **move)
