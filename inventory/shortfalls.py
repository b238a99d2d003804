"""What will run out, when, whom does it hurt, and by when must it be ordered?"""

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from functools import cached_property

from django.db.models import TextField
from django.db.models.functions import Cast

from inventory.events import CHUNK, Store
from inventory.models import Item, Requirement
from inventory.netted import Netted, Peg
from inventory.netting import net_all
from inventory.shelf import RECEIPT, REQUIREMENT, Row

Name = tuple[int, str, str, str, str]
# Beyond so many, needs are named by a range of keys: SQLite takes 32,766 values in one statement.
FEW = 30_000


@dataclass(frozen=True)
class Hurt:
    """One need of which so much is not covered, or which an order will cover."""

    requirement: int
    quantity: int
    day: dt.date
    label: str
    link: str
    origin: str


@dataclass(frozen=True)
class Ask:
    """Goods on their way to be asked for sooner; else to be bought by the order day."""

    receipt: int
    quantity: int
    due: dt.date
    wanted: dt.date
    buy: int
    order_day: dt.date
    overdue: bool


@dataclass(frozen=True)
class Order:
    """So much to be ordered by a day, in whole packs where the item has any, and for what."""

    order_day: dt.date
    arrive_day: dt.date
    quantity: int
    packs: int | None
    overdue: bool
    covers: tuple[Hurt, ...]


@dataclass(frozen=True)
class Line:
    """What is short on one day: missing is what needs lack, the rest what should always be there."""

    day: dt.date
    quantity: int
    missing: int
    advice: str
    overdue: bool
    hurts: tuple[Hurt, ...]
    order: Order | None
    asks: tuple[Ask, ...]

    @property
    def order_day(self) -> dt.date | None:
        days = [order.order_day for order in (self.order, *self.asks) if order]
        return min(days, default=None)


@dataclass(frozen=True)
class ItemOutlook:
    """What becomes of one item; lines, orders and asks go as far as the horizon.

    spoken_for is what needs up to then take of the lots in the house.
    """

    item: Item
    on_hand: int
    on_its_way: int
    spoken_for: int
    netted: Netted
    horizon: dt.date | None
    names: Mapping[int, Name] = field(repr=False)

    @cached_property
    def lines(self) -> tuple[Line, ...]:
        orders = {order.arrive_day: order for order in self.orders}
        lines = []
        for short in self.netted.shortfalls:
            day = dt.date.fromordinal(short.day)
            asks = tuple(ask for ask in self.asks if ask.wanted == day)
            hurts = self._named(short.hurts)
            facts = short.quantity, short.missing, short.advice, short.overdue
            lines.append(Line(day, *facts, hurts, orders.get(day), asks))
        return tuple(line for line in lines if self._is_in_view(line.day))

    @cached_property
    def orders(self) -> tuple[Order, ...]:
        orders = (
            Order(
                order_day=dt.date.fromordinal(order.order_day),
                arrive_day=dt.date.fromordinal(order.arrive_day),
                quantity=order.quantity,
                packs=order.quantity // self.item.pack if self.item.pack > 1 else None,
                overdue=order.overdue,
                covers=self._named(order.covers),
            )
            for order in self.netted.orders
        )
        return tuple(order for order in orders if self._is_in_view(order.arrive_day))

    @cached_property
    def asks(self) -> tuple[Ask, ...]:
        asks = (
            Ask(
                receipt=ask.receipt_key,
                quantity=ask.quantity,
                due=dt.date.fromordinal(ask.from_day),
                wanted=dt.date.fromordinal(ask.to_day),
                buy=ask.buy,
                order_day=dt.date.fromordinal(ask.order_day),
                overdue=ask.overdue,
            )
            for ask in self.netted.sooner
        )
        return tuple(ask for ask in asks if self._is_in_view(ask.wanted))

    @property
    def order_day(self) -> dt.date | None:
        """The first day by which something must be ordered."""
        return min((line.order_day for line in self.lines if line.order_day), default=None)

    @property
    def overdue(self) -> bool:
        return any(line.overdue for line in self.lines)

    @property
    def short_on(self) -> int:
        """The ordinal of the first day in view on which something is short."""
        return self.netted.shortfalls[0].day

    @cached_property
    def lacking(self) -> dict[int, tuple[int, Line]]:
        """By need, how much of it is neither in the house nor rightly on its way, and the line to heed.

        More than the hurts of the lines: an order that fills up what should always be there may serve
        needs that come after it, and as long as it is not placed they lack it.
        """
        hurt, covered, lines = Counter(), Counter(), {}
        for line in self.lines:
            covers = line.order.covers if line.order else ()
            for counted, needs in ((hurt, line.hurts), (covered, covers)):
                for need in needs:
                    counted[need.requirement] += need.quantity
                    lines.setdefault(need.requirement, line)
        return {key: (max(hurt[key], covered[key]), line) for key, line in lines.items()}

    def concerns(self, origin: str) -> bool:
        return any(self.names[key][-1] == origin for key in self.lacking)

    def _named(self, pegs: Iterable[Peg]) -> tuple[Hurt, ...]:
        return tuple(_hurt(self.names[key], quantity) for key, quantity in pegs)

    def _is_in_view(self, day: dt.date) -> bool:
        return self.horizon is None or day <= self.horizon


def shortfalls(
    *,
    today: dt.date,
    horizon: dt.date | None = None,
    item: Item | None = None,
    origin: str | None = None,
) -> list[ItemOutlook]:
    """Everything that will run out by the horizon, the first to do so first, then by name.

    Narrowed to one item, or to what the needs of one origin lack. Seven queries whatever the size of
    the house, eight for an origin.
    """
    store = Store(today=today, items=_asked(item, origin))
    last = (horizon or dt.date.max).toordinal()
    short, spoken_for = {}, {}
    for key, answer in store.net(horizon):
        if answer.shortfalls and answer.shortfalls[0].day <= last:
            spoken_for[key] = sum(quantity for _, _, quantity in answer.taken)
            # The rest of the detail is not kept: of a large house it is most of the memory.
            short[key] = answer._replace(on_hand=[], taken=[], awaited=[])
    names = _names(short.values())
    found = [
        ItemOutlook(
            item=row,
            on_hand=store.on_hand[row.pk],
            on_its_way=store.on_its_way[row.pk],
            spoken_for=spoken_for[row.pk],
            netted=short[row.pk],
            horizon=horizon,
            names=names,
        )
        for row in Item.objects.filter(pk__in=short)
    ]
    if origin is not None:
        found = [outlook for outlook in found if outlook.concerns(origin)]
    return sorted(found, key=lambda outlook: (outlook.short_on, outlook.item.name))


def _asked(item: Item | None, origin: str | None) -> list[int] | None:
    if item is not None:
        return [item.pk]
    if origin is None:
        return None
    needs = Requirement.objects.filter(origin=origin, state=Requirement.State.OPEN)
    return list(needs.order_by().values_list("item", flat=True).distinct())


def _hurt(name: Name, quantity: int) -> Hurt:
    key, day, label, link, origin = name
    return Hurt(key, quantity, dt.date.fromisoformat(day), label, link, origin)


def _names(answers: Iterable[Netted]) -> dict[int, Name]:
    """Key, day, label, link and origin of every need that is hurt or that an order covers; one query."""
    keys = set()
    for answer in answers:
        for short in answer.shortfalls:
            keys.update(key for key, _ in short.hurts)
        for order in answer.orders:
            keys.update(key for key, _ in order.covers)
    if not keys:
        return {}
    among = {"pk__in": keys} if len(keys) <= FEW else {"pk__range": (min(keys), max(keys))}
    columns = "pk", Cast("day", TextField()), "label", "link", "origin"
    rows = Requirement.objects.filter(**among).order_by().values_list(*columns).iterator(CHUNK)
    return {row[0]: row for row in rows if row[0] in keys}


@dataclass(frozen=True)
class Day:
    """One row of the table of an item: on hand is what is there at the day's end if all goes as planned.

    on_hand = on hand of the row before + arrives + planned - needed - expires, and that of the first row
    starts from what is good today.
    """

    day: dt.date
    needed: int
    arrives: int
    planned: int
    expires: int
    on_hand: int
    short: int


def outlook(*, item: Item, today: dt.date) -> list[Day]:
    """The days on which something happens to one item; five queries.

    What is late counts today; goods that should be asked for sooner arrive on the day they are wanted.
    """
    store = Store(today=today, items=[item.pk])
    rows = list(store.rows())
    for _, answer in net_all(iter(rows), store.policies, pins=store.pins):
        return _days(rows, answer, today.toordinal())
    return []


def _days(rows: list[Row], answer: Netted, today: int) -> list[Day]:
    moved = needed, arrives, planned, expires = Counter(), Counter(), Counter(), Counter()
    sooner = {ask.receipt_key: ask.to_day for ask in answer.sooner}
    for _, day, kind, key, quantity, _ in rows:
        if kind == REQUIREMENT:
            needed[max(day, today)] += quantity
        elif kind == RECEIPT:
            arrives[sooner.get(key, max(day, today))] += quantity
    for order in answer.orders:
        planned[order.arrive_day] += order.quantity
    for gone in answer.expired:
        expires[gone.day] += gone.quantity
    short = {row.day: row.quantity for row in answer.shortfalls}
    return [
        Day(dt.date.fromordinal(day), *(kind[day] for kind in moved), total, short.get(day, 0))
        for day, total in answer.on_hand
    ]
