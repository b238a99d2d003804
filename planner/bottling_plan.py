"""Which bottles would a batch fill today, how are they shut, and may they be filled so?"""

import datetime as dt
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field, replace

from django.utils.text import capfirst

from inventory import allocation, packaging
from inventory.models import BottleType, ClosureType, Finish, Item, StoragePlace
from inventory.packaging import Glass as HouseGlass
from inventory.packaging import GlassLine, PartLine
from inventory.refusals import Refusal
from planner import fizz, gates, volumes
from planner.book import Book
from planner.kinetics import EQUAL_WITHIN
from planner.models import Batch

UL_PER_L = 1_000_000
MBAR = 1000
# The last bottle filled short: at least four fifths. Common practice, no source.
SHORT = (4, 5)


@dataclass(frozen=True)
class Wish:
    """What is wanted of a bottling; volumes in microlitres, `wished` bottles by item."""

    sample: int = 0
    hose: int = 0
    aim: str = allocation.Aim.NOTHING_LEFT
    spare: int = 0
    wished: Mapping[int, int] = field(default_factory=dict)
    with_dirty: bool = False
    short_ok: bool = False
    is_fizzy: bool = False
    volumes: float | None = None
    warmest_c: float | None = None
    abv: float | None = None
    kind: str = "sucrose"
    lower: bool = False
    place: StoragePlace | None = None


@dataclass(frozen=True)
class Line:
    """A kind of bottle: how many are there and would be filled, how it is shut, and how it presses."""

    item: Item
    kind: BottleType
    clean: int
    dirty: int
    count: int
    closure: Item | None
    cage: Item | None
    tool: str
    pressed: fizz.Pressed | None = None
    problem: str = ""

    @property
    def to_wash(self) -> int:
        return max(0, self.count - self.clean)

    @property
    def verdict(self) -> gates.Verdict | None:
        return self.pressed.verdict if self.pressed else None

    @property
    def syrup_ml(self) -> float:
        return fizz.syrup_ml(self.pressed.dose_g) if self.pressed else 0.0

    @property
    def tone(self) -> str:
        level = self.verdict.level if self.verdict else gates.GO
        return {gates.STOP: "stop", gates.LOOK_AGAIN: "warn"}.get(level, "good")

    @property
    def sugar_g(self) -> float:
        return self.count * self.pressed.dose_g if self.pressed else 0.0


@dataclass(frozen=True)
class Plan:
    """A way to fill what there is; `left_out` are kinds of bottle that cannot be used, with why."""

    volume: int
    lines: list[Line]
    left_out: list[tuple[Item, str]]
    left: int
    short: tuple[Item, int] | None
    proved: bool
    lacks: list[tuple[Item, int, int]]
    wine: fizz.Wine | None

    @property
    def bottles(self) -> int:
        return sum(line.count for line in self.lines) + bool(self.short)

    @property
    def sugar_g(self) -> float:
        return sum(line.sugar_g for line in self.lines)

    @property
    def filled(self) -> int:
        return self.volume - self.left


def plan(batch: Batch, book: Book, wish: Wish) -> Plan:
    """The best filling by the wish; seven queries whatever the glass.

    Refuses, naming the box, what leaves nothing to fill or cannot be reckoned.
    """
    there = volumes.of_batch(batch).amount
    volume = there - wish.sample - wish.hose
    if volume <= 0:
        raise Refusal("Nothing is left to fill after sample and hose.", field="sample")
    house = packaging.glass_of_the_house()
    in_vessel = wine_of(book, wish) if wish.is_fizzy else None
    ways = [_shut(line, house, wish.is_fizzy) for line in house.bottles if line.kind]
    lines, left_out = [], []
    for line, closure, why in ways:
        held = line.counts["clean"] + (line.counts["dirty"] if wish.with_dirty else 0)
        why = why or ("" if held else "none is clean") or _no_rating(line, closure, wish)
        if why:
            left_out.append((line.item, why))
        else:
            lines.append(_line(line, closure, house, in_vessel, wish))
    lines.sort(key=lambda one: -one.clean - one.dirty)
    left_out += [
        (one.item, "eight kinds are filled at once") for one in lines[allocation.MOST_SIZES :]
    ]
    lines = sorted(lines[: allocation.MOST_SIZES], key=lambda one: -one.kind.nominal)
    return _filled(lines, left_out, house, volume, in_vessel, wish)


def _no_rating(line: GlassLine, closure: PartLine | None, wish: Wish) -> str:
    rated = glass_of(line.kind, closure.kind if closure else None).rated_bar
    return (
        "its rating is not known, so it is not for pressure"
        if wish.is_fizzy and rated is None
        else ""
    )


def wine_of(book: Book, wish: Wish) -> fizz.Wine:
    """The wine with the gas it holds and what its own sugar still makes.

    Refuses where strength or warmth is not known: what it holds could be anything.
    """
    if wish.abv is None:
        raise Refusal(
            "How strong it is is not known: read its start and its end, or type it.", field="abv"
        )
    if wish.warmest_c is None:
        raise Refusal("Say the warmest it has been since it was quiet.", field="warmest_c")
    now, finish = unfinished_of(book)
    try:
        return fizz.wine(warmest_c=wish.warmest_c, abv=wish.abv, gravity=now, finish=finish)
    except ValueError as wrong:
        raise Refusal(f"{capfirst(str(wrong))}.", field="warmest_c") from None


def unfinished_of(book: Book) -> tuple[float | None, float | None]:
    """Gravity now and the finish that what is left counts from; nothing where it has finished."""
    if book.now is None or book.finish.value is None:
        return None, None
    now, high = book.now.figure.value, book.finish.high or book.finish.value
    if now <= high + EQUAL_WITHIN:
        return None, None
    low = book.finish.low if book.finish.low is not None else book.finish.value
    return now, low


def _shut(
    line: GlassLine, house: HouseGlass, is_fizzy: bool
) -> tuple[GlassLine, PartLine | None, str]:
    """The closure for a kind of bottle, or why there is none."""
    if line.kind.finish in (Finish.SWING,) and not _fitting(line, house):
        return line, None, ""
    fitting = _fitting(line, house)
    if not fitting:
        return line, None, "no closure in the house fits it"
    there = [part for part in fitting if part.held]
    if not there:
        return line, None, f"no {fitting[0].item} is there"
    return line, max(there, key=lambda part: _fitness(part.kind, part.held, is_fizzy)), ""


def _fitting(line: GlassLine, house: HouseGlass) -> list[PartLine]:
    return [part for part in house.closures if part.kind and line.kind.finish in part.kind.fits]


def _fitness(kind: ClosureType, held: int, is_fizzy: bool) -> tuple:
    """For fizz the one rated for most, for still wine the plainest; then of which most are there."""
    rated = kind.rated_mbar or 0
    return (rated, held) if is_fizzy else (-rated, not kind.needs_cage, held)


def _line(
    line: GlassLine,
    closure: PartLine | None,
    house: HouseGlass,
    in_vessel: fizz.Wine | None,
    wish: Wish,
) -> Line:
    cage = None
    if closure and closure.kind.needs_cage:
        cage = max(house.cages, key=lambda part: part.held, default=None)
    pressed, problem = None, ""
    if in_vessel:
        try:
            pressed = press(line.kind, closure.kind if closure else None, in_vessel, wish)
        except ValueError as wrong:
            problem = str(wrong)
    return Line(
        item=line.item,
        kind=line.kind,
        clean=line.counts["clean"],
        dirty=line.counts["dirty"],
        count=0,
        closure=closure.item if closure else None,
        cage=cage.item if cage else None,
        tool=closure.kind.tool if closure else "",
        pressed=pressed,
        problem=problem,
    )


def press(
    kind: BottleType, closure: ClosureType | None, in_vessel: fizz.Wine, wish: Wish
) -> fizz.Pressed:
    """How a kind of bottle presses at the target, where it is going to lie."""
    return fizz.press(
        in_vessel,
        glass_of(kind, closure),
        volumes=wish.volumes,
        kind=wish.kind,
        ordinary_c=wish.place.ordinary_c if wish.place else None,
        warmest_c=wish.place.warmest_c if wish.place else None,
        lower=wish.lower,
    )


def glass_of(kind: BottleType, closure: ClosureType | None) -> fizz.Glass:
    """A bottle with what shuts it; a swing top is part of its bottle and rated with it."""
    bottle = None if kind.rated_mbar is None else kind.rated_mbar / MBAR
    shut = bottle if closure is None else None
    if closure and closure.rated_mbar is not None:
        shut = closure.rated_mbar / MBAR
    return fizz.Glass(
        fill_l=kind.nominal / UL_PER_L,
        brimful_l=None if kind.brimful is None else kind.brimful / UL_PER_L,
        bottle_bar=bottle,
        closure_bar=shut,
    )


def _filled(
    lines: list[Line],
    left_out: list[tuple[Item, str]],
    house: HouseGlass,
    volume: int,
    in_vessel: fizz.Wine | None,
    wish: Wish,
) -> Plan:
    pools = {str(part.pk): part.held for part in house.closures}
    pools |= {str(part.pk): part.held for part in house.cages}
    sizes = [_size(line, wish) for line in lines]
    try:
        found = allocation.fill(
            sizes,
            volume_ul=volume,
            pools=pools,
            aim=allocation.Aim(wish.aim),
            spare_ul=wish.spare,
            wished={str(key): count for key, count in wish.wished.items()},
        )
    except ValueError as wrong:
        raise Refusal(f"{capfirst(str(wrong))}.", field="wished") from None
    by_key = {str(line.item.pk): line.item for line in lines}
    by_key |= {str(part.pk): part.item for part in (*house.closures, *house.cages)}
    missing = allocation.lacks(sizes, volume_ul=volume, pools=pools, plan=found)
    return Plan(
        volume=volume,
        lines=[replace(line, count=found.counts[str(line.item.pk)]) for line in lines],
        left_out=left_out,
        left=found.left_ul,
        short=(by_key[found.short[0]], found.short[1]) if found.short else None,
        proved=found.proved,
        lacks=[(by_key[one.part], one.held, one.wanted) for one in missing],
        wine=in_vessel,
    )


def _size(line: Line, wish: Wish) -> allocation.Size:
    held = line.clean + (line.dirty if wish.with_dirty else 0)
    takes = [str(part.pk) for part in (line.closure, line.cage) if part]
    least = line.kind.nominal * SHORT[0] // SHORT[1] if wish.short_ok else None
    return allocation.Size(str(line.item.pk), line.kind.nominal, held, tuple(takes), least)


def order_by(items: Iterable[Item], *, day: dt.date) -> dict[int, dt.date]:
    """The last day to order each missing part for a bottling day."""
    return {item.pk: day - dt.timedelta(days=item.lead_days) for item in items}
