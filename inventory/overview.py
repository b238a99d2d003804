"""What of each item is there, spoken for, on its way and short, and what happens to it day by day?"""

import datetime as dt
from collections import defaultdict
from collections.abc import Collection, Iterable
from dataclasses import dataclass

from django.db.models import Min, Q, Sum

from inventory.events import Store, last_day
from inventory.models import Item, Lot, Receipt, Requirement
from inventory.netted import Netted
from inventory.shopping import ShoppingLine
from inventory.shortfalls import Day, outlook
from inventory.shown import day_text

Labelled = tuple[str, str]
DAYS_PER_YEAR = 365.25
PRICES = 8
# A kilogram, a litre, a piece in stored thousandths.
WHOLE = {"mg": 1_000_000, "uL": 1_000_000, "mpc": 1000}


@dataclass(frozen=True)
class StoreLine:
    """One item: past_date is the part of what is on hand that may no longer be used."""

    item: Item
    on_hand: int
    spoken_for: int
    on_its_way: int
    past_date: int
    short_by: int
    short_on: dt.date | None
    overdue: bool

    @property
    def pk(self) -> int:
        return self.item.pk

    def __str__(self) -> str:
        return str(self.item)

    @property
    def running_low(self) -> bool:
        return self.on_hand - self.past_date < self.item.safety_stock


def store_lines(*, today: dt.date, items: Collection[int] | None = None) -> list[StoreLine]:
    """Every item, or these, by name; six queries whatever the size of the store."""
    store = Store(today=today, items=items)
    answers = dict(store.net())
    rows = Item.objects.all() if items is None else Item.objects.filter(pk__in=items)
    return [_line(item, store, answers[item.pk], today.toordinal()) for item in rows]


def _line(item: Item, store: Store, answer: Netted, today: int) -> StoreLine:
    first = answer.shortfalls[0].day if answer.shortfalls else None
    return StoreLine(
        item=item,
        on_hand=store.on_hand[item.pk],
        spoken_for=sum(quantity for _, _, quantity in answer.taken),
        on_its_way=store.on_its_way[item.pk],
        past_date=sum(gone.quantity for gone in answer.expired if gone.day <= today),
        short_by=sum(short.quantity for short in answer.shortfalls),
        short_on=dt.date.fromordinal(first) if first else None,
        overdue=any(short.overdue for short in answer.shortfalls),
    )


@dataclass(frozen=True)
class OutlookRow:
    """A day of one item, with whose needs and which goods fall on it as (words, address)."""

    item: Item
    row: Day
    happens: tuple[Labelled, ...]


def outlook_rows(
    *,
    item: Item,
    today: dt.date,
    needs: Collection[Requirement],
    expected: Collection[Receipt],
) -> list[OutlookRow]:
    """The days of one item; `needs` and `expected` are its open ones, five queries more."""
    happens: defaultdict[dt.date, list[Labelled]] = defaultdict(list)
    for need in needs:
        late = f", overdue since {day_text(need.day)}" if need.day < today else ""
        happens[max(need.day, today)].append((f"{need.label}{late}", need.link))
    for receipt in expected:
        late = f", late since {day_text(receipt.due)}" if receipt.due < today else ""
        happens[max(receipt.due, today)].append((f"on its way{late}", ""))
    days = outlook(item=item, today=today)
    return [OutlookRow(item, day, tuple(happens[day.day])) for day in days]


def price_of(lines: Iterable[ShoppingLine]) -> int | None:
    """What these lines cost as far as prices are noted, in hundredths; None if none is."""
    known = [line.price for line in lines if line.price is not None]
    return sum(known) if known else None


def keeps_until(lot: Lot) -> dt.date | None:
    """The last day on which a lot may be used; None if it keeps."""
    use_by, opened = (day.toordinal() if day else 0 for day in (lot.use_by, lot.opened))
    last = last_day(use_by, opened, lot.item.shelf_days_opened)
    return dt.date.fromordinal(last) if last else None


def past_their_date(lots: Iterable[Lot], today: dt.date) -> list[Lot]:
    return [lot for lot in lots if (last := keeps_until(lot)) and last < today]


def origins() -> list[Labelled]:
    """What open needs come from, as (key, words): the words before the last colon of a label."""
    rows = Requirement.objects.filter(state=Requirement.State.OPEN).exclude(origin="")
    found = rows.order_by().values_list("origin").annotate(Min("label"))
    named = [(origin, label.rpartition(": ")[0] or label) for origin, label in found]
    return sorted(named, key=lambda pair: pair[1])


def strength_left(lot: Lot, today: dt.date) -> int | None:
    """Percent of its strength by its age, as the house supposes; None where it supposes nothing."""
    fades = lot.item.fades_percent
    if fades is None:
        return None
    years = max(0, (today - lot.received).days) / DAYS_PER_YEAR
    return round(100 * (1 - fades / 100) ** years)


@dataclass(frozen=True)
class Price:
    """What a lot cost, and what that is for one pack or, without a pack, for a whole unit."""

    lot: Lot
    paid: int
    each: int
    per: int


def prices_of(item: Item) -> list[Price]:
    """The last few that were paid for, the newest first; one query."""
    came = Sum("movements__quantity", filter=Q(movements__kind="receive"))
    rows = Lot.objects.filter(item=item, cost__isnull=False).annotate(came=came)
    per = item.pack if item.pack > 1 else WHOLE[item.base]
    return [
        Price(lot, lot.cost, round(lot.cost * per / lot.came), per)
        for lot in rows.order_by("-received", "-pk")[:PRICES]
        if lot.came
    ]
