"""What can this lot become, what would be missing, and will a vessel be free for it?"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from inventory import ledger, packaging, reservations
from inventory.models import Item, Lot, Vessel
from inventory.models.vessels import VesselKind
from inventory.packaging import Glass, Month, room_on
from planner import occupancies
from planner.models import Basis, Batch, Occupancy, RecipeVersion, Step
from planner.must_design import wishes_of
from planner.occupancies import Span
from planner.recipes import rules_of
from planner.requirements import MICROLITRES_PER_LITRE, quantities
from planner.schedule import ScheduleRefusal, lay_out
from planner.steps import drafted

# Less than half a litre is not worth a vessel; a judgement, no source.
LEAST_UL = 500_000
# Two years: longer than most wine stands in vessels.
MONTHS_AHEAD = 24


@dataclass(frozen=True)
class Cover:
    """One thing the recipe wants: how much, how much of it is free, and when the rest could be here."""

    item: Item
    wanted: int
    free: int
    here_by: dt.date

    @property
    def short(self) -> int:
        return max(0, self.wanted - self.free)


@dataclass(frozen=True)
class Standing:
    """A stretch in one kind of vessel, with the free ones that take the volume; none if they do not."""

    kind: str
    begins: dt.date
    ends: dt.date
    vessels: tuple[Vessel, ...]


@dataclass(frozen=True)
class Filling:
    """The day it goes into glass, and how much the sets of the house hold then, at most."""

    day: dt.date
    wanted: int
    room: int

    @property
    def short(self) -> int:
        return max(0, self.wanted - self.room)


@dataclass(frozen=True)
class Way:
    """A recipe scaled to the lot: its volume, what of the lot it uses, and what stands against it.

    `filling` is none where no step of the recipe fills glass.
    """

    version: RecipeVersion
    volume: int
    uses: int
    covers: tuple[Cover, ...]
    standings: tuple[Standing, ...]
    filling: Filling | None
    ready: dt.date

    @property
    def lacking(self) -> list[Cover]:
        return [cover for cover in self.covers if cover.short]

    @property
    def has_vessels(self) -> bool:
        return all(standing.vessels for standing in self.standings)


@dataclass(frozen=True)
class House:
    """What is free of each item, the vessels, and when they are in use."""

    today: dt.date
    free: dict[int, int]
    vessels: list[Vessel]
    busy: list[Occupancy]
    glass: Glass
    months: list[Month]

    def cover(self, item: Item, wanted: int) -> Cover:
        here_by = self.today + dt.timedelta(days=item.lead_days)
        return Cover(item, wanted, self.free[item.pk], here_by)

    def filling(self, steps: list[Step], volume: int, *, for_fizz: bool) -> Filling | None:
        """What goes into the vessels comes out again at most; losses leave more room."""
        if not steps:
            return None
        day = min(step.day for step in steps)
        room = room_on(day, house=self.glass, months=self.months, for_fizz=for_fizz)
        return Filling(day, volume, room)

    def standing(self, span: Span, volume: int) -> Standing:
        taken = {
            use.vessel_id for use in self.busy if use.begins < span.ends and use.ends > span.begins
        }
        free = [one for one in self.vessels if one.kind == span.kind and one.pk not in taken]
        room = occupancies.enough(free, occupancies.brimful_wanted(span.kind, volume))
        kind = VesselKind(span.kind).label
        return Standing(kind, span.begins, span.ends, tuple(sorted(room, key=str)))


def ways(lot: Lot, *, amount: int, today: dt.date) -> list[Way]:
    """Every recipe of the house that takes this, begun today, the readiest first.

    A fixed number of queries whatever the number of recipes.
    """
    versions = _newest_versions(lot.item)
    items = {line.item_id for version in versions for line in version.lines.all()}
    stock, spoken = ledger.stock(items), reservations.spoken_for(items)
    house = House(
        today,
        {key: stock.get(key, 0) - spoken.get(key, 0) for key in items},
        list(Vessel.objects.filter(archived=False)),
        list(Occupancy.objects.filter(ends__gt=today)),
        *_glass(today),
    )
    found = [_way(version, lot, amount, house) for version in versions]
    ready = [way for way in found if way is not None]
    return sorted(ready, key=lambda way: (len(way.lacking), not way.has_vessels, way.ready))


def _glass(today: dt.date) -> tuple[Glass, list[Month]]:
    house = packaging.glass_of_the_house()
    return house, packaging.months_ahead(house, today=today, months=MONTHS_AHEAD)


def _newest_versions(item: Item) -> list[RecipeVersion]:
    """The newest version of each recipe, where it takes the item; four queries."""
    rows = RecipeVersion.objects.filter(recipe__archived=False).order_by("recipe", "-number")
    newest: dict[int, RecipeVersion] = {}
    for version in rows.select_related("recipe").prefetch_related("lines__item", "steps"):
        newest.setdefault(version.recipe_id, version)
    return [
        version
        for version in newest.values()
        if any(line.item_id == item.pk for line in version.lines.all())
    ]


def _way(version: RecipeVersion, lot: Lot, amount: int, house: House) -> Way | None:
    lines = list(version.lines.all())
    volume = _volume(version, lines, lot.item, amount)
    steps = _steps(version, volume, house.today)
    if volume < LEAST_UL or not steps:
        return None
    wanted = quantities(lines, volume)
    totals: dict[Item, int] = {}
    for line, quantity in wanted:
        totals[line.item] = totals.get(line.item, 0) + quantity
    return Way(
        version,
        volume,
        totals[lot.item],
        tuple(house.cover(item, quantity) for item, quantity in totals.items()),
        tuple(house.standing(span, volume) for span in occupancies.spans(steps, wanted)),
        house.filling(
            occupancies.glass_steps(steps, wanted),
            volume,
            for_fizz=wishes_of(version).closing == "fizz",
        ),
        max(step.day for step in steps),
    )


def _volume(version: RecipeVersion, lines: Sequence, item: Item, amount: int) -> int:
    """The must that uses all of it; a recipe of fixed amounts keeps the size it was reckoned for."""
    rate = sum(
        line.amount for line in lines if line.item_id == item.pk and line.basis == Basis.PER_LITRE
    )
    return amount * MICROLITRES_PER_LITRE // rate if rate else version.volume or 0


def _steps(version: RecipeVersion, volume: int, start: dt.date) -> list[Step]:
    """Its steps if it began on this day; none where the recipe cannot be laid out."""
    templates = list(version.steps.all())
    try:
        laid = lay_out(start, rules_of(templates))
    except ScheduleRefusal:
        return []
    return drafted(Batch(recipe_version=version, volume=volume, start=start), templates, laid)
