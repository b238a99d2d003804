"""What glass is there, in which state, and how many sets of bottle, closure and cage are usable?

Reads the house for `sets`, in a fixed number of queries whatever it holds.
"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from inventory import glass
from inventory.models import BottleType, CageType, ClosureType, Item, Loan, Receipt, Requirement
from inventory.models.items import Kind
from inventory.sets import Bottle, Change, Closure, Usable, by_month, usable

PIECE = glass.PIECE


@dataclass(frozen=True)
class GlassLine:
    """One kind of bottle: what it is (none: nobody has said), its counts and its sets."""

    item: Item
    kind: BottleType | None
    counts: dict[str, int]
    sets: Usable | None

    @property
    def pk(self) -> int:
        return self.item.pk

    def __str__(self) -> str:
        return str(self.item)


@dataclass(frozen=True)
class PartLine:
    """One kind of closure or cage, with how many are on the shelf."""

    item: Item
    kind: ClosureType | CageType | None
    held: int

    @property
    def pk(self) -> int:
        return self.item.pk

    def __str__(self) -> str:
        return str(self.item)


@dataclass(frozen=True)
class Glass:
    """The glass of the house on a day."""

    bottles: list[GlassLine]
    closures: list[PartLine]
    cages: list[PartLine]

    @property
    def cages_held(self) -> int:
        return sum(cage.held for cage in self.cages)

    def as_sets(self) -> tuple[list[Bottle], list[Closure]]:
        bottles = [_bottle(line.item, line.kind, line.counts) for line in self.bottles if line.kind]
        return bottles, [_closure(line) for line in self.closures if line.kind]


def _bottle(item: Item, kind: BottleType, counts: dict[str, int]) -> Bottle:
    return Bottle(item.pk, kind.finish, counts[glass.CLEAN], counts["dirty"])


def _closure(line: PartLine) -> Closure:
    return Closure(line.pk, frozenset(line.kind.fits), line.held, line.kind.needs_cage)


def glass_of_the_house() -> Glass:
    """Bottles largest first, undescribed ones last; closures and cages by name; three queries."""
    kinds = [Kind.BOTTLE, Kind.CLOSURE, Kind.CAGE]
    related = "bottle_type", "closure_type", "cage_type"
    items = list(Item.objects.filter(kind__in=kinds, archived=False).select_related(*related))
    counts = glass.counts(item.pk for item in items)
    parts = {
        kind: [
            PartLine(item, getattr(item, name, None), counts[item.pk][glass.CLEAN])
            for item in items
            if item.kind == kind
        ]
        for kind, name in ((Kind.CLOSURE, "closure_type"), (Kind.CAGE, "cage_type"))
    }
    rows = [
        (item, getattr(item, "bottle_type", None), counts[item.pk])
        for item in items
        if item.kind == Kind.BOTTLE
    ]
    answers = usable(
        [_bottle(*row) for row in rows if row[1]],
        [_closure(line) for line in parts[Kind.CLOSURE] if line.kind],
        cages=sum(cage.held for cage in parts[Kind.CAGE]),
    )
    lines = [GlassLine(*row, answers.get(row[0].pk)) for row in rows]
    lines.sort(key=lambda line: (-(line.kind.nominal if line.kind else 0), line.item.name))
    return Glass(lines, parts[Kind.CLOSURE], parts[Kind.CAGE])


@dataclass(frozen=True)
class Month:
    """From this month's end on so many sets of each kind of bottle are usable, by item."""

    first: dt.date
    sets: dict[int, Usable]


def months_ahead(house: Glass, *, today: dt.date, months: int, drunk: int = 0) -> list[Month]:
    """The sets at the end of each coming month in which they change; two queries.

    Counted is what planned batches take and what is on its way. `drunk` bottles a month are opened and
    their glass washed: dealt to the kinds of bottle by how many of each are filled. What no
    reservation or order names is not counted.
    """
    bottles, closures = house.as_sets()
    changes = [*_planned(house, today), *_drunk(house, drunk, months)]
    answers = by_month(bottles, closures, cages=house.cages_held, changes=changes, months=months)
    return [
        Month(_later(today, n), sets)
        for n, sets in enumerate(answers)
        if not n or sets != answers[n - 1]
    ]


def room_on(day: dt.date, *, house: Glass, months: Sequence[Month], for_fizz: bool) -> int:
    """Microlitres that the sets usable by that month hold at most; asks the database nothing.

    Parts that several kinds of bottle share are counted for each. With fizz only bottles of known
    rating count.
    """
    held = [month for month in months if month.first <= day]
    sets = held[-1].sets if held else {}
    kinds = {line.pk: line.kind for line in house.bottles if line.kind}
    return sum(
        found.washed * kinds[key].nominal
        for key, found in sets.items()
        if key in kinds and (not for_fizz or kinds[key].rated_mbar is not None)
    )


def _later(day: dt.date, months: int) -> dt.date:
    years, month = divmod(day.month - 1 + months, 12)
    return dt.date(day.year + years, month + 1, 1)


def _planned(house: Glass, today: dt.date) -> list[Change]:
    part_of = {line.pk: ("bottle", line.pk) for line in house.bottles}
    part_of |= {line.pk: ("closure", line.pk) for line in house.closures}
    part_of |= {line.pk: ("cage", 0) for line in house.cages}
    asked = {"item__in": part_of}
    needs = Requirement.objects.filter(state=Requirement.State.OPEN, **asked)
    goods = Receipt.objects.filter(state=Receipt.State.EXPECTED, **asked)
    wanted = [
        (day, item, -count) for day, item, count in needs.values_list("day", "item", "quantity")
    ]
    coming = list(goods.values_list("due", "item", "quantity"))
    return [
        Change(_months_between(today, day), part_of[item], int(count / PIECE))
        for day, item, count in [*wanted, *coming]
    ]


def _months_between(today: dt.date, day: dt.date) -> int:
    return max(0, (day.year - today.year) * 12 + day.month - today.month)


def _drunk(house: Glass, drunk: int, months: int) -> list[Change]:
    """Bottles emptied month by month, from the kind of which most are still full."""
    full = {line.pk: line.counts["filled"] for line in house.bottles if line.kind}
    changes = []
    for month in range(months):
        for _ in range(drunk):
            key = max(full, key=full.get, default=None)
            if key is None or not full[key]:
                return changes
            full[key] -= 1
            changes.append(Change(month, ("bottle", key), 1))
    return changes


def loans_out() -> list[Loan]:
    """Who has bottles of the house; one query."""
    rows = Loan.objects.select_related("item").order_by("due", "pk")
    return [loan for loan in rows if loan.out]
