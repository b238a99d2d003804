"""A primed bottle poured into others: the gas goes with it, and every new bottle is pressed anew."""

import datetime as dt
import uuid
from collections.abc import Mapping

from django.db import transaction

from inventory import activity, cellar, laying_down
from inventory.laying_down import Drink, Filling
from inventory.models import BottleType, CellarLot, Fate, Item, Person, StoragePlace
from inventory.refusals import Refusal
from planner import cellar_view, fizz, gates, step_gates
from planner.bottling_plan import glass_of
from planner.chemistry.carbonation import residual_co2_g_per_l
from planner.models import Bottling

UL_PER_L = 1_000_000
MG_PER_G = 1000


def judged(
    lot: CellarLot, kind: BottleType, closure: Item | None, place: StoragePlace | None
) -> gates.Verdict:
    """How the wine of a bottle would press in another kind; nothing of a still one."""
    if not lot.is_fizzy or lot.co2 is None:
        return gates.Verdict("pressure")
    glass = glass_of(kind, getattr(closure, "closure_type", None) if closure else None)
    warm = cellar_view.warmest_of(place)
    grams = poured_co2_g_per_l(lot, glass.fill_l)
    try:
        bar = fizz.gauge(cellar_view.wine_of_lot(lot), glass, grams, warm).value
    except ValueError as wrong:
        return gates.Verdict("pressure", (gates.Reason(gates.STOP, str(wrong)),))
    return gates.pressure(
        gauge_bar=bar, bottle_rated_bar=glass.bottle_bar, closure_rated_bar=glass.closure_bar
    )


def poured_co2_g_per_l(lot: CellarLot, fill_l: float) -> float:
    """All gas in a smaller bottle that gets the whole dose of the larger; what the wine held stays so.

    Sugar may lie undissolved at the bottom, so the whole of it is reckoned with. One query.
    """
    whole, before = lot.co2 / MG_PER_G, lot.fill / UL_PER_L
    if fill_l >= before:
        return whole
    held = min(whole, _held_before_priming(lot))
    return held + (whole - held) * before / fill_l


def _held_before_priming(lot: CellarLot) -> float:
    """By its bottling day; nothing where that is not known, so that all of it counts as priming."""
    _, _, key = lot.origin.partition("batch:")
    rows = Bottling.objects.filter(day=lot.bottled, taken_back=False, warmest__isnull=False)
    row = rows.filter(batch=key).first() if key.isdigit() else None
    if row is None:
        return 0.0
    abv = cellar_view.wine_of_lot(lot).abv
    return residual_co2_g_per_l(warmest_c=row.warmest / 1000, abv=abv)


@transaction.atomic
def decant(
    *,
    lot: CellarLot,
    count: int,
    place: StoragePlace | None,
    into: Item,
    closure: Item | None,
    cage: Item | None,
    filled: int,
    on: dt.date,
    by: Person | None,
    target: StoragePlace | None = None,
    reason: str = "",
) -> CellarLot:
    """So many bottles opened and poured into others of another kind; all of it or nothing.

    Refuses behind the pressure gate as if all the sugar of the opened bottles were still to work, and
    more than they held. Can be undone.
    """
    kind = BottleType.objects.filter(item=into).first()
    if kind is None:
        raise Refusal(f"Say first what kind of bottle {into} is.", field="into")
    if filled < 1 or filled * kind.nominal > count * lot.fill:
        raise Refusal(
            f"{count} of {lot.fill / UL_PER_L:g} L do not fill {filled} of {kind.nominal / UL_PER_L:g} L.",
            field="filled",
        )
    verdict = judged(lot, kind, closure, target)
    step_gates.refuse_stops([verdict])
    step_gates.refuse_without_reason([verdict], reason)
    line, taken = cellar.write_take(
        lot=lot, fate=Fate.DECANTED, count=count, on=on, by=by, place=place, note=reason[:200]
    )
    act = uuid.uuid4()
    [made] = laying_down.lay_down(
        drink=_drink(lot, on),
        fillings=[
            Filling(into, filled, kind.nominal, closure, cage, lot.co2 if lot.is_fizzy else None)
        ],
        place=target,
        by=by,
        act=act,
    )
    activity.record(
        by=by,
        verb="decant",
        subject=made,
        summary=f"Poured {count} {lot} into {filled} {into}",
        undo="decanting.decant",
        undo_data={"act": str(act), "take": str(line.act), **taken},
    )
    return made


def _drink(lot: CellarLot, on: dt.date) -> Drink:
    """The same drink, filled anew on this day."""
    same = ("name", "origin", "link", "is_fizzy", "strength", "strength_rule", "sugar", "sulphite")
    more = ("contains", "warnings", "test_on", "ready", "drink_by")
    return Drink(bottled=on, **_values(lot, (*same, *more)))


def _values(lot: CellarLot, names: tuple[str, ...]) -> Mapping:
    return {name: getattr(lot, name) for name in names}


@activity.undoes("decanting.decant")
def _undo_decant(data: dict, by: Person | None) -> None:
    laying_down.take_up(data["act"], by)
    cellar.undo_take({"act": data["take"], "movements": data["movements"]}, by)
