"""What can this lot become, what would be missing, and will a vessel be free for it?"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass
from fractions import Fraction

from inventory import ledger, reservations
from inventory.models import Item, Lot, Vessel
from planner import schedule
from planner.models import Basis, Occupancy, RecipeVersion, StepTemplate
from planner.occupancies import FOAM_SHARE, enough
from planner.recipes import rule_of
from planner.requirements import MICROLITRES_PER_LITRE, amounts_of
from planner.schedule import ScheduleRefusal

# Less than half a litre is not worth a vessel; a judgement, no source.
LEAST_UL = 500_000


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
class Way:
    """A recipe scaled to the lot: its volume, what of the lot it uses, and what stands against it."""

    version: RecipeVersion
    volume: int
    uses: int
    covers: tuple[Cover, ...]
    standings: tuple[Standing, ...]
    ready: dt.date

    @property
    def lacking(self) -> list[Cover]:
        return [cover for cover in self.covers if cover.short]

    @property
    def has_vessels(self) -> bool:
        return all(standing.vessels for standing in self.standings)


def ways(lot: Lot, *, amount: int, today: dt.date) -> list[Way]:
    """Every recipe of the house that takes this, begun today, the readiest first.

    A fixed number of queries whatever the number of recipes.
    """
    versions = _newest_versions(lot.item)
    lines = {version.pk: list(version.lines.all()) for version in versions}
    items = {line.item_id for rows in lines.values() for line in rows}
    stock, spoken = ledger.stock(items), reservations.spoken_for(items)
    free = {key: stock.get(key, 0) - spoken.get(key, 0) for key in items}
    free[lot.item_id] = max(free.get(lot.item_id, 0), amount)
    vessels = list(Vessel.objects.filter(archived=False).order_by("brimful"))
    busy = list(Occupancy.objects.filter(ends__gt=today).values_list("vessel", "begins", "ends"))
    found = [
        _way(version, lines[version.pk], lot.item, amount, free, vessels, busy, today)
        for version in versions
    ]
    ready = [way for way in found if way is not None]
    return sorted(ready, key=lambda way: (len(way.lacking), not way.has_vessels, way.ready))


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


def _way(
    version: RecipeVersion,
    lines: Sequence,
    item: Item,
    amount: int,
    free: dict[int, int],
    vessels: Sequence[Vessel],
    busy: Sequence[tuple],
    today: dt.date,
) -> Way | None:
    volume = _volume(version, lines, item, amount)
    if volume is None or volume < LEAST_UL:
        return None
    wanted: dict[int, list] = {}
    for line, quantity in zip(lines, amounts_of(lines, volume), strict=True):
        held = wanted.setdefault(line.item_id, [line.item, Fraction(0)])
        held[1] += quantity
    covers = tuple(
        Cover(thing, round(quantity), free[key], today + dt.timedelta(days=thing.lead_days))
        for key, (thing, quantity) in wanted.items()
    )
    days = _days(version, today)
    if days is None:
        return None
    uses = round(wanted[item.pk][1])
    standings = tuple(_standings(version, days, volume, vessels, busy))
    return Way(version, volume, uses, covers, standings, max(days.values()))


def _volume(version: RecipeVersion, lines: Sequence, item: Item, amount: int) -> int | None:
    """The must that uses all of it; a recipe of fixed amounts keeps the size it was reckoned for."""
    rate = sum(
        line.amount for line in lines if line.item_id == item.pk and line.basis == Basis.PER_LITRE
    )
    if rate:
        return amount * MICROLITRES_PER_LITRE // rate
    return version.volume


def _days(version: RecipeVersion, start: dt.date) -> dict[int, dt.date] | None:
    """The day of each step if it began on this day; none where the recipe cannot be laid out."""
    templates = list(version.steps.all())
    rules = [_rule(template) for template in templates]
    try:
        laid = schedule.lay_out(start, rules)
    except ScheduleRefusal:
        return None
    return {template.pk: dated.day for template, dated in zip(templates, laid, strict=True)}


def _rule(template: StepTemplate):
    anchor = None if template.after_id is None else str(template.after_id)
    return rule_of(template, key=str(template.pk), anchor=anchor)


def _standings(version, days, volume, vessels, busy):
    """From a step that wants a vessel until the next that wants another, or the last step."""
    steps = list(version.steps.all())
    starts = [step for step in steps if step.vessel_wanted]
    for step, after in zip(starts, [*starts[1:], None], strict=True):
        begins = days[step.pk]
        ends = days[after.pk] if after else max(days.values())
        ends = max(ends, begins + dt.timedelta(days=1))
        taken = {key for key, first, last in busy if first < ends and last > begins}
        share = 1 - FOAM_SHARE if step.vessel_wanted == "open" else 1
        free = [
            vessel
            for vessel in vessels
            if vessel.kind == step.vessel_wanted and vessel.pk not in taken
        ]
        room = sorted(enough(free, round(volume / share)), key=str)
        yield Standing(step.get_vessel_wanted_display(), begins, ends, tuple(room))
