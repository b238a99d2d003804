"""The glass of the worked example: 750s with stoppers and cages, 500s and 330s with crown caps."""

import datetime as dt

from django.utils import timezone

from inventory import glass, items, ledger, places
from inventory.models import BottleType, CageType, ClosureType
from planner import batches, readings, recipes
from planner.recipes import StepDraft
from tests.conftest import KILO, LITRE, PIECE

START = dt.date(2026, 4, 18)
BOTTLED = dt.date(2026, 8, 15)
ML = 1000
FIZZ_STEPS = [
    StepDraft(key="mash", title="Mash", vessel_wanted="open"),
    StepDraft(key="press", title="Press", offset_days=7, vessel_wanted="closed"),
    StepDraft(key="bottle", title="Bottle with fizz", offset_days=100),
    StepDraft(key="ready", title="Fit to drink", after="bottle", offset_days=28),
]


def _bottle(name, nominal, brimful, finish, rated, *, clean, dirty=0, filled=0, cracked=0):
    item = items.add_item(by=None, name=name, kind="bottle", base="mpc", piece_word="bottle")
    rating = {"rated_mbar": rated, "rating_source": "the owner's word"} if rated else {}
    glass.describe(
        item=item, model=BottleType, by=None, nominal=nominal * ML, brimful=brimful * ML,
        finish=finish, **rating,
    )  # fmt: skip
    if clean:
        ledger.receive(item=item, quantity=clean * PIECE, on=START, by=None)
    for count, state in ((dirty, "dirty"), (filled, "filled"), (cracked, "cracked")):
        if count:
            first = "dirty" if state == "cracked" else state
            move = {"item": item, "count": count, "on": START, "by": None}
            glass.move(source=glass.OUTSIDE, target=first, **move)
            if state == "cracked":
                glass.move(source="dirty", target="cracked", **move)
    return item


def _part(name, kind, model, count, **said):
    item = items.add_item(by=None, name=name, kind=kind, base="mpc")
    glass.describe(item=item, model=model, by=None, **said)
    ledger.receive(item=item, quantity=count * PIECE, on=START, by=None)
    return item


def furnish(*, crown_rated=6000):
    """Everything of the example by name."""
    owner = {"rating_source": "the owner's word"}
    return {
        "750": _bottle("Fizz 750", 750, 775, "fizz", 6000, clean=6, dirty=2, filled=5, cracked=1),
        "500": _bottle("Crown 500", 500, 520, "crown_26", 3000, clean=9),
        "330": _bottle("Crown 330", 330, 345, "crown_26", 3000, clean=12),
        "stopper": _part(
            "Stopper", "closure", ClosureType, 10,
            fits=["fizz"], needs_cage=True, rated_mbar=7000, uses=3, **owner,
        ),
        "cap": _part(
            "Crown cap", "closure", ClosureType, 40,
            fits=["crown_26"], tool="cap press", rated_mbar=crown_rated, **owner,
        ),
        "cage": _part("Cage", "cage", CageType, 7, uses=3),
        "sun room": places.add_place(by=None, name="Sun room", ordinary_c=20, warmest_c=30),
        "stairs": places.add_place(by=None, name="Under the stairs", ordinary_c=12, warmest_c=18),
    }  # fmt: skip


def quiet_batch(by, *, volume=9_300 * ML, readings_of=((0, 1.080), (100, 0.995), (103, 0.995))):
    """A fizz that has finished: read at its start and twice at its end."""
    recipe = recipes.add_recipe(name="Gorse fizz", product="fizz", by=by)
    version = recipes.add_version(recipe=recipe, steps=FIZZ_STEPS, lines=[], by=by)
    batch = batches.plan(recipe_version=version, volume=volume, start=START, by=by)
    for day, gravity in readings_of:
        at = timezone.make_aware(dt.datetime.combine(START + dt.timedelta(day), dt.time(12)))
        readings.record(
            batch=batch,
            kind="gravity",
            value=gravity,
            at=at,
            by=by,
            temperature_c=20,
            reference_c=20,
        )
    return batch


def sugar_lot(sugar, by):
    return ledger.receive(item=sugar, quantity=2 * KILO, on=START, by=by)


__all__ = ["BOTTLED", "LITRE", "ML", "START", "furnish", "quiet_batch", "sugar_lot"]
