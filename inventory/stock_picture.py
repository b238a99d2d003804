"""What will be on the shelf of one item from day to day, and on which days will it be short?"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from inventory.measures import GALLON_SIZES, METRIC, METRIC_SIZES, POUND_SIZES, Base, plural
from inventory.models import Item
from inventory.pictures import (
    Column,
    Fact,
    Key,
    Limit,
    Line,
    Picture,
    Plot,
    day_axis,
    day_words,
    value_axis,
)
from inventory.shortfalls import Day
from inventory.shown import day_text, quantity_text

# After the last day on which something happens the level is seen to hold for a while.
AFTER_DAYS = 14
LEAST_DAYS = 28
PIECE = 1000
LINE_KEY = Key("stroke", "line", "on the shelf if all goes as planned, orders included")
SHORT_KEY = Key("box", "short", "short: to be ordered, or asked for sooner")
SAFETY_KEY = Key("stroke", "near", "always to be there")
MOST_NAMED = 4


@dataclass(frozen=True)
class Shelf:
    """The days of one item, in the words and units of who looks."""

    item: Item
    days: Sequence[Day]
    today: dt.date
    preference: str

    @property
    def short(self) -> list[Day]:
        return [day for day in self.days if day.short]

    @property
    def most(self) -> int:
        return max([self.item.safety_stock, self.item.pack, *(day.on_hand for day in self.days)])

    @property
    def unit(self) -> tuple[str, float]:
        """One unit for the whole axis, so that its numbers are short, and how much it holds."""
        base = Base(self.item.base)
        if base is Base.MPC:
            return plural(self.item.piece_word or "piece"), PIECE
        metric = METRIC_SIZES[base]
        others = POUND_SIZES if base is Base.MG else GALLON_SIZES.get(self.preference, {})
        sizes = metric if self.preference == METRIC else others
        fitting = [unit for unit, size in sizes.items() if size <= self.most]
        name = fitting[-1] if fitting else next(iter(sizes))
        return name, float(sizes[name])

    def words(self, amount: int) -> str:
        return quantity_text(amount, self.item, self.preference)

    def some(self, amount: int) -> str:
        """A cell of the table: nothing is left out."""
        return self.words(amount) if amount else ""


def stock_picture(
    *, item: Item, days: Sequence[Day], today: dt.date, preference: str = METRIC
) -> Picture:
    """Of the days that `shortfalls.outlook(item=item, today=today)` gives; no query."""
    shelf = Shelf(item, days, today, preference)
    return Picture(
        title=f"{item} on the shelf from {day_text(today)}",
        finding=_finding(shelf),
        drawing=_plot(shelf).drawing(),
        head=(
            "Day",
            "Needed",
            "Arrives",
            "To be ordered",
            "Past its date",
            "On the shelf",
            "Short",
        ),
        facts=tuple(_fact(shelf, day) for day in days),
        keys=(
            LINE_KEY,
            *((SHORT_KEY,) if shelf.short else ()),
            *((SAFETY_KEY,) if item.safety_stock else ()),
        ),
    )


def _plot(shelf: Shelf) -> Plot:
    item, days, today = shelf.item, shelf.days, shelf.today
    last = max((day.day for day in days), default=today)
    seen = max((last - today).days + AFTER_DAYS, LEAST_DAYS)
    name, size = shelf.unit
    least = min([0, *(-day.short for day in days), *(day.on_hand for day in days)])
    low, high = least * 1.15 / size, shelf.most * 1.1 / size
    keep = Limit(f"keep {shelf.words(item.safety_stock)}", item.safety_stock / size, "near")
    return Plot(
        across=day_axis(today, today + dt.timedelta(days=seen)),
        up=value_axis(low, high, _tick, name=name),
        lines=[Line("on the shelf", [(day.day, day.on_hand / size) for day in days], steps=True)],
        limits=[keep] if item.safety_stock else [],
        columns=[_column(shelf, day, size) for day in shelf.short],
        now=today,
        now_text=f"today, {day_words(today)}",
    )


def _tick(value: float) -> str:
    """Nothing below zero is on a shelf: there hang the columns of what is short."""
    return f"{value:.3g}" if value > -1e-9 else ""


def _column(shelf: Shelf, day: Day, size: float) -> Column:
    words = shelf.words(day.short)
    return Column(day.day, day.short / size, words, f"{words} short on {day_text(day.day)}")


def _fact(shelf: Shelf, day: Day) -> Fact:
    amounts = (day.needed, day.arrives, day.planned, day.expires)
    cells = [shelf.some(amount) for amount in amounts]
    return Fact((day_text(day.day), *cells, shelf.words(day.on_hand), shelf.some(day.short)))


def _finding(shelf: Shelf) -> str:
    short = shelf.short
    if not short:
        return f"{shelf.item}: nothing is short."
    named = [f"{shelf.words(day.short)} on {day_text(day.day)}" for day in short[:MOST_NAMED]]
    rest = len(short) - len(named)
    more = f", and again {rest} time{'s' * (rest > 1)} later" if rest else ""
    return f"{shelf.item}: short by {', by '.join(named)}{more}."
