"""What does an ingredient bring into a must? The house's own figures first, then the packaged table."""

from collections.abc import Iterable

from django.db import transaction

from inventory import activity
from inventory.editing import save_edit
from inventory.measures import singular
from inventory.models import Item, Person
from inventory.models.items import BaseUnit, Kind
from inventory.refusals import Refusal
from inventory.values import check_edit, check_row
from planner.chemistry.composition import compositions
from planner.chemistry.figure import Figure, measured, trusted, unknown
from planner.models import Composition
from planner.models.composition import HowKnown
from planner.must import Ingredient, bag_sugar, fruit

BAG_SUGAR = "white sugar"
# Other names of the same thing; common names of the trade, no source.
ALSO = {
    "bramble": "blackberry",
    "sugar": BAG_SUGAR,
    "granulated sugar": BAG_SUGAR,
    "caster sugar": BAG_SUGAR,
    "crab apples": "crab apple",
}
COUNTS = (Kind.FORAGED, Kind.INGREDIENT)
UNITS = {"nitrogen": "mg/100 g"}
PARTS = ("sugar", "water", "acid", "tannin", "nitrogen")


def packaged_names() -> list[str]:
    """What the packaged table can be asked for, white sugar first."""
    return [BAG_SUGAR, *compositions()]


def guess(name: str) -> str:
    """The row of the packaged table that goes by this name, or none."""
    plain = name.strip().casefold()
    known = packaged_names()
    tries = (plain, ALSO.get(plain), singular(plain), ALSO.get(singular(plain)))
    return next((each for each in tries if each in known), "")


def counts(item: Item) -> bool:
    """Whether an item goes into the balance at all; yeast, salts and glass do not."""
    return item.kind in COUNTS


def by_item(items: Iterable[int]) -> dict[int, Composition]:
    """What the house says of these items; one query."""
    return {row.item_id: row for row in Composition.objects.filter(item__in=list(items))}


@transaction.atomic
def describe(*, item: Item, by: Person | None, **values) -> Composition:
    """Say what is in an item, once; atomic, leaves an activity."""
    if not counts(item):
        raise Refusal(f"{item} is no fruit or ingredient of a must.", field="item")
    row = Composition(item=item, **values)
    _check_sum(row)
    check_row(row)
    row.save(force_insert=True)
    activity.record(by=by, verb="add", subject=row, summary=f"Said what is in {item}")
    return row


@transaction.atomic
def edit(row: Composition, *, version: int, values: dict, by: Person | None) -> Composition:
    """Change what is said of an item if nobody did since `version`."""
    _check_sum(check_edit(row, values))
    return save_edit(row, version=version, values=values, by=by)


def _check_sum(row: Composition) -> None:
    if row.packaged and row.packaged not in packaged_names():
        raise Refusal(f"{row.packaged} is not in the packaged table.", field="packaged")
    shares = (row.sugar, row.water, row.acid, row.tannin)
    if sum(share or 0 for share in shares) > 100_000:
        raise Refusal("All parts together come to more than 100 g in 100 g.", field="sugar")


def ingredient(item: Item, mass_kg: float, own: Composition | None) -> Ingredient:
    """So much of an item as the balance takes it; the house's own figures stand first."""
    packaged = own.packaged if own else guess(item.name)
    base = _packaged(item.name, packaged, mass_kg)
    if own is None:
        return base
    found = {part: _own(own, part) or getattr(base, part) for part in PARTS}
    cake = _figure(own, own.cake, 1000, "L/kg") or base.cake
    acid_as = own.acid_as if own.acid is not None else base.acid_as
    return Ingredient(item.name, mass_kg, cake=cake, acid_as=acid_as, **found)


def _packaged(name: str, packaged: str, mass_kg: float) -> Ingredient:
    if packaged == BAG_SUGAR:
        return bag_sugar(mass_kg, name=name)
    row = compositions().get(packaged)
    if row is None:
        return Ingredient(name, mass_kg)
    found = fruit(row, mass_kg)
    return Ingredient(name, mass_kg, found.sugar, found.water, found.acid, found.acid_as)


def _own(own: Composition, part: str) -> Figure | None:
    return _figure(own, getattr(own, part), 1000, UNITS.get(part, "g/100 g"))


def _figure(own: Composition, value: int | None, size: int, unit: str) -> Figure | None:
    if value is None:
        return None
    if own.known == HowKnown.MEASURED:
        return measured(value / size, unit, source=own.source or "measured in this house")
    return trusted(value / size, unit, source=own.source or "typed in this house")


def mass_kg(item: Item, amount: int, own: Composition | None) -> Figure:
    """The mass of an amount in kilograms; not known where nothing says what a piece or a litre weighs."""
    if item.base == BaseUnit.MASS:
        return trusted(amount / 1e6, "kg", source="the recipe")
    if item.base == BaseUnit.VOLUME and item.density_g_per_l:
        return trusted(amount / 1e9 * item.density_g_per_l, "kg", source="the item's own density")
    if item.base == BaseUnit.PIECES and own and own.piece:
        return trusted(amount / 1e9 * own.piece, "kg", source="the weight of one piece, as typed")
    return unknown("kg")
