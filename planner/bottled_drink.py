"""What is copied onto the bottles of a batch on the day they are filled?"""

import datetime as dt

from inventory.laying_down import Drink
from inventory.models import Item
from inventory.models.items import Kind
from planner import dose_gate, fizz, trace
from planner.book import Book
from planner.bottling_plan import Wish
from planner.catalogue import groups_to_warn
from planner.models import Batch, Plant, Step

# Common practice, no source: a bottle with fizz is tried after a fortnight and ready after four weeks.
TEST_AFTER, READY_AFTER = dt.timedelta(days=14), dt.timedelta(days=28)
# Common practice, no source.
DRINK_WITHIN_YEARS = {True: 1, False: 3}
# From memory: from this much on a label says that it contains sulphites.
SULPHITE_FROM = 10
DRINKABLE = (Kind.FORAGED, Kind.INGREDIENT, Kind.YEAST)
MOST_CONTAINS = 400


def of_batch(batch: Batch, book: Book, *, on: dt.date, wish: Wish, wine: fizz.Wine | None) -> Drink:
    """Name, strength, contents, warnings and days; about ten queries.

    What came out of other batches brought their contents with it, and how much sulphite is not known:
    any in them is named.
    """
    so2, _ = dose_gate.total_so2_mg_per_l(batch)
    sources = trace.sources_of(batch)
    used = trace.items_in(sources)
    may_hold_so2 = len(sources) > 1 and any(dose_gate.is_sulphite(item) for item in used)
    names = dict.fromkeys(item.name for item in used if item.kind in DRINKABLE)
    strength = book.strength
    if wish.is_fizzy and wish.abv is not None and not strength.is_known:
        known, rule = round(wish.abv * 1000), "as typed on bottling day"
    else:
        known = None if strength.value is None else round(strength.value * 1000)
        rule = strength.rule
    return Drink(
        name=batch.name,
        origin=batch.origin,
        link=batch.get_absolute_url(),
        bottled=on,
        is_fizzy=wish.is_fizzy,
        strength=known,
        strength_rule=rule[:160],
        sulphite=round(so2),
        contains=", ".join(names)[:MOST_CONTAINS],
        warnings=_warnings(
            used, is_sulphited=so2 >= SULPHITE_FROM or may_hold_so2, is_fizzy=wish.is_fizzy
        ),
        test_on=on + TEST_AFTER if wish.is_fizzy else None,
        ready=_ready(batch, on, is_fizzy=wish.is_fizzy),
        drink_by=_years_later(on, DRINK_WITHIN_YEARS[wish.is_fizzy]),
    )


def _warnings(used: list[Item], *, is_sulphited: bool, is_fizzy: bool) -> list[str]:
    """Of the plants, of sulphite and of pressure, as they stand on a label."""
    found = []
    if is_sulphited:
        found.append("Contains sulphites.")
    items = [item.pk for item in used if item.kind == Kind.FORAGED]
    for plant in Plant.objects.filter(item__in=items).order_by("common_name"):
        found += [f"{plant}: {clause}." for clause in groups_to_warn(plant.hazard_text)]
    if is_fizzy:
        found.append("Under pressure: keep cool and upright, open cold, away from faces.")
    return found


def _ready(batch: Batch, on: dt.date, *, is_fizzy: bool) -> dt.date | None:
    """The day of the step that says so, moved with the filling; four weeks where none does for fizz."""
    said = batch.steps.filter(title__iregex=r"^(ready|fit)\b").exclude(state=Step.State.CANCELLED)
    day = said.order_by("-day").values_list("day", flat=True).first()
    if is_fizzy:
        return on + READY_AFTER
    return day if day and day >= on else None


def _years_later(day: dt.date, years: int) -> dt.date:
    try:
        return day.replace(year=day.year + years)
    except ValueError:  # 29 February
        return day.replace(year=day.year + years, day=28)
