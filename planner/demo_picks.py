"""The patches, observations and picks of the demo house."""

import datetime as dt

from inventory import units
from inventory.models import Item, Person, StoragePlace
from planner import observations, patches, picks
from planner.models import Plant


def gather(
    scene: dict,
    held: dict[str, Item],
    shelves: dict[str, StoragePlace],
    *,
    season: int,
    today: dt.date,
    by: Person,
) -> None:
    """Patches with their plants, what was seen there in other years, and this year's picks."""
    plants = {plant.slug: plant for plant in Plant.objects.all()}
    places = {}
    for row in scene["patches"]:
        values = {name: row[name] for name in ("name", "whereabouts", "leave") if name in row}
        cap = _mass(row["cap"]) if "cap" in row else None
        grows = [plants[slug] for slug in row["plants"]]
        places[row["name"]] = patches.add_patch(by=by, plants=grows, cap=cap, **values)
    for row in scene["observations"]:
        if row["day"] <= today:
            observations.observe(
                plant=plants[row["plant"]],
                patch=places[row["patch"]],
                stage=row.get("stage", "open"),
                day=row["day"],
                by=by,
            )
    for row in scene["picks"]:
        month, day = (int(part) for part in row["day"].split("-"))
        on = dt.date(season, month, day)
        if on <= today:
            _pick(row, on, plants, places, held, shelves, by)


def _pick(
    row: dict, on: dt.date, plants: dict, places: dict, held: dict, shelves: dict, by: Person
) -> None:
    pick = picks.weigh(
        plant=plants[row["plant"]],
        patch=places[row["patch"]],
        on=on,
        weighings=[(_mass(gross), _mass(tare)) for gross, tare in row["tubs"]],
        by=by,
    )
    picks.sort(pick=pick, left=_mass(row["sorted"]), by=by)
    for share in row["shares"]:
        picks.give(
            pick=pick,
            item=held[share["item"]],
            amount=_mass(share["amount"]),
            place=shelves[share["place"]],
            meant_for=share["for"],
            by=by,
        )


def _mass(text: str) -> int:
    return units.parse_quantity(text, base="mg", name="weight")
