"""What is to be bought, in which shop, by when at the latest and for what?"""

import datetime as dt
from collections import defaultdict
from dataclasses import dataclass

from django.db import transaction

from inventory import ledger, receipts
from inventory.models import Item, Lot, Person, Receipt, StoragePlace
from inventory.refusals import Refusal
from inventory.shortfalls import Hurt, shortfalls


@dataclass(frozen=True)
class ShoppingLine:
    """So much of one item; packs is None where it is had in any amount, price in hundredths."""

    item: Item
    quantity: int
    packs: int | None
    price: int | None
    order_day: dt.date
    arrive_day: dt.date
    overdue: bool
    for_what: tuple[Hurt, ...]

    @property
    def shop(self) -> str:
        return self.item.shop


@dataclass(frozen=True)
class Shop:
    """What is to be had in one shop; the name is empty for what has none."""

    name: str
    lines: tuple[ShoppingLine, ...]

    @property
    def order_day(self) -> dt.date:
        return self.lines[0].order_day

    @property
    def overdue(self) -> bool:
        return self.lines[0].overdue


def shopping_list(*, today: dt.date, horizon: dt.date | None = None) -> list[Shop]:
    """Shops by their first order day, in each the lines by theirs: what is overdue stands first."""
    by_shop = defaultdict(list)
    for line in shopping_lines(today=today, horizon=horizon):
        by_shop[line.shop].append(line)
    shops = [Shop(name, tuple(lines)) for name, lines in by_shop.items()]
    return sorted(shops, key=lambda shop: (shop.order_day, shop.name))


def shopping_lines(*, today: dt.date, horizon: dt.date | None = None) -> list[ShoppingLine]:
    """Every order to be placed, the latest order day first to come first."""
    lines = [
        _line(outlook.item, order)
        for outlook in shortfalls(today=today, horizon=horizon)
        for order in outlook.orders
    ]
    return sorted(lines, key=lambda line: (line.order_day, line.shop, line.item.name))


def due_orders(*, today: dt.date, until: dt.date) -> list[ShoppingLine]:
    """What must be ordered by `until`, overdue first."""
    return [line for line in shopping_lines(today=today) if line.order_day <= until]


@transaction.atomic
def tick(
    *,
    item: Item,
    quantity: int,
    on: dt.date,
    by: Person | None,
    place: StoragePlace | None = None,
    use_by: dt.date | None = None,
    cost: int | None = None,
) -> Lot:
    """A line was bought and is in the house: receive it as a new lot from the item's shop."""
    return ledger.receive(
        item=item,
        quantity=quantity,
        on=on,
        by=by,
        place=place,
        use_by=use_by,
        cost=cost,
        origin=item.shop,
    )


@transaction.atomic
def order(*, shop: str, due: dt.date, today: dt.date, by: Person | None) -> list[Receipt]:
    """Everything of a shop's list is ordered, to be here by a day; all of it or nothing.

    Each line is goods on their way of its own, that can come, be late or be taken back by itself.
    """
    lines = next((one.lines for one in shopping_list(today=today) if one.name == shop), ())
    if not lines:
        raise Refusal("Nothing is to be bought there any more.")
    if due < today:
        raise Refusal("They cannot come on a day that is over.", field="due")
    return [
        receipts.expect(item=line.item, quantity=line.quantity, due=due, by=by, shop=shop)
        for line in lines
    ]


def _line(item: Item, order) -> ShoppingLine:
    packs, pack_price = order.packs, item.pack_price
    return ShoppingLine(
        item=item,
        quantity=order.quantity,
        packs=packs,
        price=packs * pack_price if packs and pack_price is not None else None,
        order_day=order.order_day,
        arrive_day=order.arrive_day,
        overdue=order.overdue,
        for_what=order.covers,
    )
