"""Would this addition bring sulphite or sorbate over the limit? Gathers the facts for the gate."""

from collections.abc import Iterable

from django.utils import timezone

from inventory.models import Item
from inventory.models.items import BaseUnit
from planner import gates, volumes
from planner.chemistry import sorbate, sulphite
from planner.chemistry.molar import SORBIC_ACID_PER_POTASSIUM_SORBATE
from planner.models import Addition, Batch, Purpose, Reading
from planner.models.book import ReadingKind

UL_PER_L = 1_000_000
MG_PER_G = 1000
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
        after = before + amount / MG_PER_G * so2_per_gram(item) * MG_PER_G / litres
        what = "total SO2" if is_known else "total SO2, as far as it was written down,"
    else:
        given = batch.additions.filter(purpose=Purpose.SORBATE, taken_back=False)
        grams = (sum(given.values_list("amount", flat=True)) + amount) / MG_PER_G
        after = grams * SORBIC_ACID_PER_POTASSIUM_SORBATE * MG_PER_G / litres
        what = "sorbic acid"
    return gates.dose(gates.Limit(what, after, _limit(purpose, country)))


def total_so2_mg_per_l(batch: Batch) -> tuple[float, bool]:
    """What was given since the last reading of the total, on top of it; False without any reading.

    A part of it is lost in time, so this is the most there may be. Three queries.
    """
    litres = volumes.of_batch(batch).amount / UL_PER_L
    read = Reading.objects.filter(batch=batch, kind=ReadingKind.TOTAL_SO2, struck="")
    last = read.order_by("at", "pk").last()
    since = batch.additions.filter(purpose=Purpose.SULPHITE, taken_back=False, base=BaseUnit.MASS)
    if last:
        since = since.filter(day__gte=timezone.localtime(last.at).date())
    if not litres:
        return 0.0, bool(last)
    return (last.number if last else 0.0) + _so2_mg(since) / litres, bool(last)


def _so2_mg(rows: Iterable[Addition]) -> float:
    return sum(row.amount * so2_per_gram(row.item or Item(name=row.what)) for row in rows)


def so2_per_gram(item: Item) -> float:
    """By the name of the salt; potassium's where it does not say."""
    salt = "sodium" if "sodium" in item.name.casefold() else "potassium"
    return sulphite.SO2_PER_GRAM[f"{salt} metabisulphite"]


def _limit(purpose: str, country: str) -> float:
    if purpose == Purpose.SULPHITE:
        return sulphite.total_limit_mg_per_l(kind=KIND)
    known = country if country in sorbate.LIMITS_MG_PER_L else "EU"
    return sorbate.limit_mg_per_l(country=known)
