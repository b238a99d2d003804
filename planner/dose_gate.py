"""Would this addition bring sulphite or sorbate over the limit? Gathers the facts for the gate."""

import datetime as dt
from dataclasses import dataclass

from django.db.models import Q
from django.utils import timezone

from inventory.models import Item, Movement
from inventory.models.items import BaseUnit
from planner import gates, volumes
from planner.chemistry import sorbate, sulphite
from planner.chemistry.molar import SORBIC_ACID_PER_POTASSIUM_SORBATE
from planner.models import Batch, Purpose, Reading
from planner.models.book import ReadingKind

UL_PER_L = 1_000_000
MG_PER_G = 1000
NAMES = {Purpose.SULPHITE: ("sulphite", "sulfite"), Purpose.SORBATE: ("sorbate",)}
KIND = "cider, fruit wine, made wine and mead"


def of_addition(
    *, batch: Batch, item: Item, amount: int, purpose: str, country: str
) -> gates.Verdict | None:
    """The verdict before so much of an item goes in; none where no limit concerns it.

    At most four queries.
    """
    litres = volumes.of_batch(batch).amount / UL_PER_L
    if litres <= 0 or purpose not in (Purpose.SULPHITE, Purpose.SORBATE):
        return None
    if item.base != BaseUnit.MASS:
        return gates.dose(gates.Limit(f"what {item} brings", None, _limit(purpose, country)))
    if purpose == Purpose.SULPHITE:
        before, is_known = total_so2_mg_per_l(batch)
        after = before + amount * so2_per_gram(item) / litres
        what = "total SO2" if is_known else "total SO2, as far as it was written down,"
    else:
        grams = (sum(one.amount for one in given(batch, Purpose.SORBATE)) + amount) / MG_PER_G
        after = grams * SORBIC_ACID_PER_POTASSIUM_SORBATE * MG_PER_G / litres
        what = "sorbic acid"
    return gates.dose(gates.Limit(what, after, _limit(purpose, country)))


@dataclass(frozen=True, slots=True)
class Given:
    """Milligrams of an additive that went into a batch on a day, by hand or by a step."""

    item: Item
    amount: int
    day: dt.date
    recorded_at: dt.datetime


def given(batch: Batch, purpose: str) -> list[Given]:
    """Sulphite or sorbate that went in by weight, oldest first; two queries.

    What a step used is known by the name of its item.
    """
    rows = batch.additions.filter(purpose=purpose, taken_back=False, base=BaseUnit.MASS)
    found = [
        Given(row.item or Item(name=row.what), row.amount, row.day, row.recorded_at)
        for row in rows.select_related("item")
    ]
    named = Q()
    for word in NAMES[purpose]:
        named |= Q(lot__item__name__icontains=word)
    moves = Movement.objects.filter(
        named, lot__item__base=BaseUnit.MASS, undoes=None, movement=None
    )
    moves = moves.filter(requirement__step_need__step__batch=batch, quantity__lt=0)
    found += [
        Given(row.lot.item, -row.quantity, row.day, row.recorded_at)
        for row in moves.select_related("lot__item")
    ]
    return sorted(found, key=lambda one: (one.day, one.recorded_at))


def total_so2_mg_per_l(batch: Batch) -> tuple[float, bool]:
    """What was given since the last reading of the total, on top of it; False without any reading.

    A part of it is lost in time, so this is the most there may be. Four queries.
    """
    litres = volumes.of_batch(batch).amount / UL_PER_L
    read = Reading.objects.filter(batch=batch, kind=ReadingKind.TOTAL_SO2, struck="")
    last = read.order_by("at", "pk").last()
    since = timezone.localtime(last.at).date() if last else None
    if not litres:
        return 0.0, bool(last)
    added = sum(
        one.amount * so2_per_gram(one.item)
        for one in given(batch, Purpose.SULPHITE)
        if since is None or one.day >= since
    )
    return (last.number if last else 0.0) + added / litres, bool(last)


def so2_per_gram(item: Item) -> float:
    """By the name of the salt; potassium's where it does not say."""
    salt = "sodium" if "sodium" in item.name.casefold() else "potassium"
    return sulphite.SO2_PER_GRAM[f"{salt} metabisulphite"]


def is_sulphite(item: Item) -> bool:
    """By its name."""
    return any(word in item.name.casefold() for word in NAMES[Purpose.SULPHITE])


def _limit(purpose: str, country: str) -> float:
    if purpose == Purpose.SULPHITE:
        return sulphite.total_limit_mg_per_l(kind=KIND)
    known = country if country in sorbate.LIMITS_MG_PER_L else "EU"
    return sorbate.limit_mg_per_l(country=known)
