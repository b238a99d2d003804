"""What runs out first in the coming year: something to put in, glass, or a vessel?"""

import datetime as dt
from dataclasses import dataclass

from inventory import shown
from inventory.models.items import Kind
from inventory.pictures import (
    Bar,
    Fact,
    Key,
    Picture,
    Row,
    date_words,
    day_axis,
    day_words,
    draw_rows,
)
from inventory.shortfalls import ItemOutlook, shortfalls
from planner import occupancies, outlook

YEAR = dt.timedelta(days=365)
ONE_DAY = dt.timedelta(days=1)
GLASS = (Kind.BOTTLE, Kind.CLOSURE, Kind.CAGE)
INGREDIENT, PACKAGING, VESSEL = "to put in", "glass", "vessel"
KEYS = (Key("box", "short", "short from that day on, or wanted twice in those days"),)
MOST_DRAWN = 30


@dataclass(frozen=True)
class Hurt:
    """Whom it hurts, and where that is mended."""

    words: str
    address: str


@dataclass(frozen=True)
class RunsOut:
    """One thing that is too little from a day on: by how much, whom it hurts, what to do about it."""

    name: str
    address: str
    what: str
    day: dt.date
    until: dt.date | None
    short: str
    hurts: tuple[Hurt, ...]
    todo: str
    tone: str


def of_the_house(*, today: dt.date, preference: str) -> list[RunsOut]:
    """All three scarce things of the coming twelve months, the first to run out first.

    Eight queries, whatever the size of the house.
    """
    end = today + YEAR
    found = [_item(one, preference) for one in shortfalls(today=today, horizon=end)]
    clashes = occupancies.conflicts()
    found += [_vessel(clash) for clash in clashes if today < clash.ends and clash.begins <= end]
    return sorted(found, key=lambda one: (one.day, one.name))


def _item(found: ItemOutlook, preference: str) -> RunsOut:
    line = found.lines[0]
    total = sum(one.quantity for one in found.lines)
    hurts = {
        (hurt.label, hurt.link): Hurt(hurt.label, hurt.link)
        for one in found.lines
        for hurt in one.hurts
    }
    todo, tone = outlook.advice(line, found.item)
    return RunsOut(
        name=str(found.item),
        address=found.item.get_absolute_url(),
        what=PACKAGING if found.item.kind in GLASS else INGREDIENT,
        day=line.day,
        until=None,
        short=shown.quantity_text(total, found.item, preference),
        hurts=tuple(hurts.values()),
        todo=todo,
        tone=tone,
    )


def _vessel(clash: occupancies.Conflict) -> RunsOut:
    batches = (clash.first.batch, clash.second.batch)
    return RunsOut(
        name=str(clash.vessel),
        address=clash.vessel.get_absolute_url(),
        what=VESSEL,
        day=clash.begins,
        until=clash.ends,
        short=f"until {shown.day_text(clash.ends)}",
        hurts=tuple(Hurt(str(batch), batch.get_absolute_url()) for batch in batches),
        todo="another vessel, an earlier racking, or a later start",
        tone="warn",
    )


def picture(found: list[RunsOut], *, today: dt.date) -> Picture | None:
    """The coming year, a row for each thing; none where nothing runs out."""
    if not found:
        return None
    last = today + YEAR
    drawn = found[:MOST_DRAWN]
    rest = len(found) - len(drawn)
    first = drawn[0]
    more = f" {rest} more stand in the list." if rest else ""
    return Picture(
        title=f"What runs out, {date_words(today)} to {date_words(last)}",
        finding=f"First: {first.name}, {day_words(first.day)}. {len(found)} in all.{more}",
        drawing=draw_rows(
            [_row(one, last) for one in drawn],
            axis=day_axis(today, last),
            now=today,
            now_text=f"today, {day_words(today)}",
        ),
        head=("Thing", "What it is", "From", "Short by", "Hurts"),
        facts=tuple(
            Fact(
                (
                    one.name,
                    one.what,
                    date_words(one.day),
                    one.short,
                    "; ".join(hurt.words for hurt in one.hurts),
                ),
                one.hurts[0].address if one.hurts else one.address,
            )
            for one in drawn
        ),
        keys=KEYS,
    )


def _row(one: RunsOut, last: dt.date) -> Row:
    until = min(one.until or last, last)
    bar = Bar(one.day, max(until, one.day + ONE_DAY), "clash" if one.until else "short")
    note = f"{one.short} from {day_words(one.day)}"
    return Row(label=one.name, note=note, urgent=one.tone == "stop", bars=[bar])
