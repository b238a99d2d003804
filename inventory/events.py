"""What of each item is in the house, on its way and needed, as the rows that netting walks?"""

import datetime as dt
from bisect import insort
from collections import Counter, defaultdict
from collections.abc import Collection, Iterator
from itertools import groupby
from operator import itemgetter

from django.db.models import OuterRef, QuerySet, Subquery, Sum, TextField
from django.db.models.functions import Cast

from inventory.models import Item, Lot, Movement, Receipt, Requirement, Reservation
from inventory.netted import Netted, Policy
from inventory.netting import net_all
from inventory.shelf import LOT, RECEIPT, REQUIREMENT, Row

CHUNK = 2000


class Ordinals(dict):
    """The ordinal of a day written 2026-09-12, worked out once; of no day it is 0.

    Days are fetched as text: a column of dates costs twice as much to read.
    """

    def __missing__(self, day: str | None) -> int:
        self[day] = dt.date.fromisoformat(day).toordinal() if day else 0
        return self[day]


class Store:
    """What the house has and awaits of these items, or of all; read in four queries.

    Needs are not kept: they stream past, one item's rows at a time, in a fifth. Who knows that nothing
    was put by by hand spares a query.
    """

    def __init__(
        self, *, today: dt.date, items: Collection[int] | None = None, has_pins: bool = True
    ) -> None:
        self.items = items
        self.days = Ordinals()
        self.on_hand: Counter[int] = Counter()
        self.on_its_way: Counter[int] = Counter()
        self.policies = self._read_policies(today.toordinal())
        self.pins = self._read_pins() if has_pins else {}
        self._lots = self._read_lots()
        self._receipts = self._read_receipts()

    def net(self, horizon: dt.date | None = None) -> Iterator[tuple[int, Netted]]:
        """Net item by item against the needs up to the horizon; may be asked once."""
        until = horizon.toordinal() if horizon else None
        return net_all(self.rows(horizon), self.policies, pins=self.pins, until=until)

    def rows(self, horizon: dt.date | None = None) -> Iterator[Row]:
        """Rows item by item, each item's in the order of day, kind, key; may be asked once."""
        lots, receipts = self._lots, self._receipts
        for item, needs in groupby(self._needs(horizon), itemgetter(0)):
            dated = list(needs)
            for receipt in receipts.pop(item, ()):
                insort(dated, receipt)
            yield from lots.pop(item, ())
            yield from dated
        for item in lots.keys() | receipts.keys():
            yield from lots.pop(item, ())
            yield from receipts.pop(item, ())

    def _needs(self, horizon: dt.date | None) -> Iterator[Row]:
        days, open_ones = self.days, self._of(Requirement.objects, "item")
        open_ones = open_ones.filter(state=Requirement.State.OPEN).order_by("item_id", "day", "pk")
        if horizon:
            open_ones = open_ones.filter(day__lte=horizon)
        fetched = open_ones.values_list("item_id", _text("day"), "pk", "quantity").iterator(CHUNK)
        return ((item, days[day], REQUIREMENT, key, size, 0) for item, day, key, size in fetched)

    def _read_policies(self, today: int) -> dict[int, Policy]:
        columns = "lead_days", "pack", "minimum_order", "safety_stock", "shelf_days_sealed"
        rows = self._of(Item.objects, "pk").order_by("pk").values_list("pk", *columns)
        return {key: Policy(today, *rest) for key, *rest in rows}

    def _read_pins(self) -> dict[int, dict[int, list[tuple[int, int]]]]:
        """What was put by for a need by hand: by item, then by need, (lot, quantity)."""
        pins: dict = {}
        rows = self._of(Reservation.objects, "lot__item").filter(
            by_hand=True, requirement__state=Requirement.State.OPEN
        )
        columns = "lot__item_id", "requirement_id", "lot_id", "quantity"
        for item, requirement, lot, quantity in rows.order_by("pk").values_list(*columns):
            pins.setdefault(item, {}).setdefault(requirement, []).append((lot, quantity))
        return pins

    def _read_receipts(self) -> dict[int, list[Row]]:
        """What is on its way, whatever the horizon: it may be asked for sooner."""
        found = defaultdict(list)
        rows = self._of(Receipt.objects, "item").filter(state=Receipt.State.EXPECTED)
        columns = "item_id", _text("due"), "pk", "quantity"
        rows = rows.order_by("item_id", "due", "pk").values_list(*columns).iterator(CHUNK)
        for item, due, key, quantity in rows:
            policy, day = self.policies[item], self.days[due]
            keeps = policy.shelf_days
            last = 0 if keeps is None else max(day, policy.today) + keeps
            found[item].append((item, day, RECEIPT, key, quantity, last))
            self.on_its_way[item] += quantity
        return found

    def _read_lots(self) -> dict[int, list[Row]]:
        """What is in the house: the sum of its lines beside each lot, in one query."""
        found = defaultdict(list)
        lines = Movement.objects.filter(lot=OuterRef("pk")).order_by().values("lot")
        held = Subquery(lines.annotate(held=Sum("quantity")).values("held"))
        columns = "item_id", "pk", _text("use_by"), _text("opened"), "item__shelf_days_opened"
        rows = self._of(Lot.objects, "item").order_by("pk").values_list(*columns, held)
        for item, key, use_by, opened, keeps, quantity in rows.iterator(CHUNK):
            if quantity:
                last = last_day(self.days[use_by], self.days[opened], keeps)
                found[item].append((item, 0, LOT, key, quantity, last))
                self.on_hand[item] += quantity
        return found

    def _of(self, rows, path: str) -> QuerySet:
        return rows.all() if self.items is None else rows.filter(**{f"{path}__in": self.items})


def last_day(use_by: int, opened: int, keeps_opened: int | None) -> int:
    """The last day on which a lot may be used, 0 if it keeps: an opened one spoils sooner."""
    if not opened or keeps_opened is None:
        return use_by
    return min(use_by or opened + keeps_opened, opened + keeps_opened)


def _text(column: str) -> Cast:
    return Cast(column, TextField())
