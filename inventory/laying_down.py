"""Clean bottles are filled, shut and laid down: what is written of each, and how it is taken back."""

import datetime as dt
import uuid
from collections.abc import Iterable
from dataclasses import dataclass, field

from inventory import clock, glass, used_parts
from inventory.cellar import return_lines, write_line, write_opposites
from inventory.dealing import deal
from inventory.locks import lock_items
from inventory.models import CellarLine, CellarLot, Fate, GlassState, Item, Person, StoragePlace
from inventory.refusals import Refusal
from inventory.values import check_columns


@dataclass(frozen=True)
class Drink:
    """What is in the bottles, copied onto each of them on the day they are filled."""

    name: str
    origin: str
    link: str = ""
    bottled: dt.date | None = None
    is_fizzy: bool = False
    strength: int | None = None
    strength_rule: str = ""
    sugar: int | None = None
    sulphite: int | None = None
    contains: str = ""
    warnings: list[str] = field(default_factory=list)
    test_on: dt.date | None = None
    ready: dt.date | None = None
    drink_by: dt.date | None = None


@dataclass(frozen=True)
class Filling:
    """So many bottles of one kind, what is in each (µL), how they are shut, and all gas in mg/L."""

    item: Item
    count: int
    fill: int
    closure: Item | None = None
    cage: Item | None = None
    co2: int | None = None


def lay_down(
    *,
    drink: Drink,
    fillings: Iterable[Filling],
    place: StoragePlace | None,
    by: Person | None,
    act: uuid.UUID,
) -> list[CellarLot]:
    """Fill clean bottles, shut them and lay them down, as part of a larger act; the caller is atomic."""
    return [_lay(drink, filling, place, by, act) for filling in fillings if filling.count]


def _lay(
    drink: Drink, filling: Filling, place: StoragePlace | None, by: Person | None, act: uuid.UUID
) -> CellarLot:
    on = drink.bottled or clock.today()
    glass.write_move(
        item=filling.item,
        count=filling.count,
        source=glass.CLEAN,
        target=GlassState.FILLED,
        on=on,
        by=by,
        reason=drink.name,
        act=act,
    )
    parts = {}
    for name in ("closure", "cage"):
        item = getattr(filling, name)
        if item:
            lock_items([item.pk])
            lines, runs = used_parts.take(
                item=item, count=filling.count, on=on, by=by, reason=f"on {drink.name}"[:200]
            )
            parts[name] = runs
            parts[f"{name}_lines"] = [line.pk for line in lines]
            deal(items=[item.pk], by=by, locked=True)
    lot = CellarLot(
        **vars(drink) | {"bottled": on},
        item=filling.item,
        closure=filling.closure,
        cage=filling.cage,
        fill=filling.fill,
        filled=filling.count,
        co2=filling.co2,
        parts=parts,
        mark=_free_mark(drink.name, on),
    )
    check_columns(lot, ["name", "contains", "origin"])
    lot.save(force_insert=True)
    write_line(lot, place, Fate.LAID, filling.count, on, by, act=act)
    return lot


def _free_mark(name: str, on: dt.date) -> str:
    stem = f"{name[:2].upper()}{on:%y%m%d}"
    taken = set(CellarLot.objects.filter(mark__startswith=stem).values_list("mark", flat=True))
    return next(f"{stem}-{n}" for n in range(1, len(taken) + 2) if f"{stem}-{n}" not in taken)


def take_up(act: str, by: Person | None) -> None:
    """Take a laying down back: bottles are clean again, closures and cages on the shelf.

    Refused once a bottle of it has been touched; the caller is atomic.
    """
    lines = list(CellarLine.objects.filter(act=act, undoes=None).select_related("lot"))
    lots = [line.lot for line in lines]
    touched = CellarLine.objects.filter(lot__in=lots, undoes=None, cellarline=None).exclude(act=act)
    if touched.exists():
        raise Refusal(
            "Some of these bottles have been moved or opened since; take that back first."
        )
    write_opposites(lines, by)
    glass.undo_move(act=act, by=by)
    for lot in lots:
        keys = [key for name in ("closure", "cage") for key in lot.parts.get(f"{name}_lines", [])]
        return_lines(keys, by)
