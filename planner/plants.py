"""Which plants does the house know, and from where?"""

from django.db import transaction
from django.utils.text import slugify

from inventory import activity
from inventory.editing import save_edit
from inventory.models import Person
from inventory.refusals import Refusal
from inventory.values import check_edit, check_row
from planner.catalogue import CataloguePlant, catalogue
from planner.models import Plant
from planner.phenology import ShiftKind, Window


@transaction.atomic
def load_catalogue(*, by: Person | None = None) -> tuple[int, int]:
    """How many plants were made and how many changed; the house's own are left alone.

    Atomic and idempotent: a second run changes nothing and leaves no activity.
    """
    held = {plant.slug: plant for plant in Plant.objects.select_for_update().order_by("pk")}
    rows = {plant.key: _values(plant) for plant in catalogue()}
    made = Plant.objects.bulk_create(
        Plant(slug=slug, **values) for slug, values in rows.items() if slug not in held
    )
    changed = [
        plant
        for slug, plant in held.items()
        if slug in rows and not plant.own and _differs(plant, rows[slug])
    ]
    for plant in changed:
        _write(plant, rows[plant.slug])
    if made or changed:
        _record(made, changed, by)
    return len(made), len(changed)


@transaction.atomic
def add_plant(*, by: Person | None, **values) -> Plant:
    """A plant of the house's own; atomic, leaves an activity. Refuses days that make no window."""
    plant = Plant(own=True, slug=_free_slug(values.get("common_name", "")), **values)
    try:
        window = Window(plant.first_day, plant.peak_day, plant.last_day)
    except ValueError as wrong:
        raise Refusal(str(wrong), field="peak_day") from None
    plant.wraps_year = window.wraps
    check_row(plant)
    plant.save(force_insert=True)
    activity.record(by=by, verb="add", subject=plant, summary=f"Added the plant {plant}")
    return plant


def _free_slug(name: str) -> str:
    stem = slugify(name)[:50] or "plant"
    # The address of the form is no plant's.
    taken = {"add", *Plant.objects.filter(slug__startswith=stem).values_list("slug", flat=True)}
    names = (stem if n == 1 else f"{stem}-{n}" for n in range(1, len(taken) + 2))
    return next(name for name in names if name not in taken)


@transaction.atomic
def edit_plant(plant: Plant, *, version: int, values: dict, by: Person | None) -> Plant:
    """Change what the house says of a plant if nobody did since `version`."""
    check_edit(plant, values)
    return save_edit(plant, version=version, values=values, by=by)


def _differs(plant: Plant, values: dict) -> bool:
    return any(getattr(plant, field) != value for field, value in values.items())


def _write(plant: Plant, values: dict) -> None:
    for field, value in values.items():
        setattr(plant, field, value)
    plant.version += 1
    plant.save(update_fields=[*values, "version"])


def _record(made: list[Plant], changed: list[Plant], by: Person | None) -> None:
    activity.record(
        by=by,
        verb="load",
        subject=(made or changed)[0],
        summary=f"Read the catalogue of plants: {len(made)} new, {len(changed)} changed",
    )


def _values(plant: CataloguePlant) -> dict:
    return {**_names(plant), **_season(plant), **_keeping(plant), **_cautions(plant)}


def _names(plant: CataloguePlant) -> dict:
    return {
        "common_name": plant.common_name,
        "latin_name": plant.latin_name,
        "part": plant.part,
        "uses": ", ".join(plant.uses),
        "notes": _notes(plant),
        "sources": dict(plant.sources),
    }


def _notes(plant: CataloguePlant) -> str:
    also = f"Also called {', '.join(plant.aliases)}." if plant.aliases else ""
    return "\n".join(filter(None, (plant.notes, also)))


def _season(plant: CataloguePlant) -> dict:
    return {
        "first_day": plant.window.first,
        "peak_day": plant.window.peak,
        "last_day": plant.window.last,
        "wraps_year": plant.window.wraps,
        "reference_place": plant.place_text,
        "reference_latitude_thousandths": round(plant.place.latitude * 1000),
        "reference_height_m": round(plant.place.height_m),
        "late_fruit": plant.shift_kind is ShiftKind.LATE_FRUIT,
        "bbch": plant.bbch,
        "bbch_name": plant.bbch_name,
        "cue": plant.cue_event,
        "cue_lag_days": plant.cue_lag_days,
    }


def _keeping(plant: CataloguePlant) -> dict:
    return {
        "room_days": plant.room_days.text,
        "fridge_days": plant.fridge_days.text,
        "freezer_months": plant.freezer_months.text,
        "net_yield_percent": plant.net_yield_percent.text,
        "dose": plant.dose_text,
        "sugar": plant.sugar_g_per_100g.text,
        "acid": plant.acid_g_per_100g.text,
        "tannin": plant.tannin,
    }


def _cautions(plant: CataloguePlant) -> dict:
    return {
        "hazard_level": plant.hazard_level,
        "hazard_text": plant.hazard_text,
        "look_alikes": plant.look_alikes,
        "legal_class": plant.legal_class.value,
        "legal_note": plant.legal_note,
    }
