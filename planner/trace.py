"""Out of which lots was a batch made, what did they cost, and where did a lot go?"""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from django.db.models import F, Q, Sum

from inventory.models import Item, Lot, Movement
from planner.models import Batch, Transfer
from planner.models.volume import BETWEEN


@dataclass(frozen=True)
class Used:
    """So much of a lot that went into a batch; its cost in hundredths, none where not known.

    `is_typed` tells that the cost is by the price noted with the item, not by what the lot cost.
    """

    lot: Lot
    quantity: int
    day: dt.date
    what: str
    cost: int | None
    is_typed: bool = False

    @property
    def item(self) -> Item:
        return self.lot.item


@dataclass(frozen=True)
class Cost:
    """What the lots of a batch cost together, and how many lines of it are not known."""

    total: int
    unknown: int
    by_price: int


@dataclass(frozen=True)
class Goes:
    """A batch that holds something of a lot: how it came there, in words."""

    batch: Batch
    how: str


def of_batch(batch: Batch) -> list[Used]:
    """Everything of the store that went into a batch and was not taken back; three queries."""
    rows = (
        Movement.objects.filter(
            Q(requirement__step_need__step__batch=batch) | Q(addition__batch=batch),
            undoes=None,
            movement=None,
        )
        .select_related("lot__item", "requirement__step_need__step", "addition")
        .order_by("day", "pk")
    )
    lines = list(rows)
    received = _received({line.lot_id for line in lines})
    return [_used(line, received) for line in lines if line.quantity < 0]


def sources_of(batch: Batch) -> list[int]:
    """The batch itself and every other that something of it came out of; one query a generation."""
    found = [batch.pk]
    edge = {batch.pk}
    while edge:
        rows = Transfer.objects.filter(
            batch__in=edge, cause__in=BETWEEN, change__gt=0, undoes=None, transfer=None
        )
        edge = set(rows.order_by().values_list("other", flat=True)) - set(found)
        found += sorted(edge)
    return found


def items_in(batches: Iterable[int]) -> list[Item]:
    """Every item that went into these batches and was not taken back, in that order; one query."""
    keys = list(batches)
    rows = Movement.objects.filter(
        Q(requirement__step_need__step__batch__in=keys) | Q(addition__batch__in=keys),
        undoes=None,
        movement=None,
        quantity__lt=0,
    )
    rows = rows.select_related("lot__item").order_by("day", "pk")
    return list(dict.fromkeys(row.lot.item for row in rows))


def cost_of(used: Iterable[Used]) -> Cost:
    """The sum of the known lines."""
    used = list(used)
    return Cost(
        sum(line.cost or 0 for line in used),
        sum(line.cost is None for line in used),
        sum(line.is_typed for line in used),
    )


def of_lot(lot: Lot) -> list[Goes]:
    """Every batch that holds something of a lot, also by parting and pouring; a few queries."""
    moves = Movement.objects.filter(lot=lot, undoes=None, movement=None, quantity__lt=0)
    steps = moves.values_list("requirement__step_need__step__batch", flat=True)
    added = moves.values_list("addition__batch", flat=True)
    first = {key for key in [*steps, *added] if key}
    found = dict.fromkeys(sorted(first), "it went in")
    edge = set(first)
    while edge:
        rows = Transfer.objects.filter(
            other__in=edge, cause__in=BETWEEN, change__gt=0, undoes=None, transfer=None
        ).select_related("other")
        edge = set()
        for row in rows:
            if row.batch_id not in found:
                found[row.batch_id] = f"out of {row.other}"
                edge.add(row.batch_id)
    batches = Batch.objects.in_bulk(found)
    return [Goes(batches[key], how) for key, how in found.items()]


def _received(lots: Iterable[int]) -> dict[int, int]:
    """What each lot held when it came, by which its cost is shared out."""
    rows = Movement.objects.filter(lot__in=list(lots), kind=Movement.Kind.RECEIVE).order_by()
    return dict(
        rows.values_list("lot").annotate(Sum("quantity")).values_list("lot", F("quantity__sum"))
    )


def _used(line: Movement, received: dict[int, int]) -> Used:
    lot, quantity = line.lot, -line.quantity
    what = line.reason
    if line.requirement_id:
        what = line.requirement.step_need.step.title
    cost, is_typed = None, False
    if lot.cost is not None and received.get(lot.pk):
        cost = round(lot.cost * quantity / received[lot.pk])
    elif lot.item.pack_price is not None and lot.item.pack > 1:
        cost, is_typed = round(lot.item.pack_price * quantity / lot.item.pack), True
    return Used(lot, quantity, line.day, what, cost, is_typed)
