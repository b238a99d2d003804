"""Which vessel is in use when, and where do two batches want one?"""

from collections import defaultdict
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby
from math import ceil

from django.db.models import Q

from inventory.models import Vessel
from inventory.models.vessels import VesselKind
from inventory.refusals import Refusal
from inventory.shown import day_text
from planner import progress
from planner.models import Batch, Occupancy, Step
from planner.requirements import Lines

AUTO = "auto"
ONE_DAY = timedelta(days=1)
# Common practice, no source: the share of an open vessel left empty for foam.
FOAM_SHARE = 0.15


@dataclass(frozen=True)
class Conflict:
    """One vessel wanted twice, from `begins` until `ends`; the last day is free again."""

    vessel: Vessel
    first: Occupancy
    second: Occupancy
    begins: date
    ends: date


@dataclass(frozen=True)
class Span:
    """A stretch of a batch's steps that stands in one kind of vessel."""

    kind: str
    first: Step
    last: Step | None

    @property
    def begins(self) -> date:
        return day_of(self.first)

    @property
    def ends(self) -> date:
        """Free again on this day; a vessel is in use for at least one day."""
        return max(day_of(self.last or self.first), self.begins + ONE_DAY)

    def __str__(self):
        return f"{VesselKind(self.kind).label} from {day_text(self.begins)}"


def day_of(step: Step) -> date:
    """The day it was done, else the day it is to be done."""
    return step.done_on or step.day


def spans(steps: Sequence[Step], lines: Lines) -> list[Span]:
    """Where the batch stands, step by step, written or drafted; `lines` are what its steps take.

    From a step that wants a vessel until the next that wants another kind or, at the latest, until
    the wine goes into glass or the last step is reached.
    """
    glass = {step.place for step in glass_steps(steps, lines)}
    found: list[Span] = []
    kind, first = "", None
    for step in steps:
        wanted = step.template.vessel_wanted if step.template else ""
        leaves = step.place in glass
        if first and (leaves or wanted not in ("", kind)):
            found.append(Span(kind, first, step))
            first = None
        if wanted and not first and not leaves:
            kind, first = wanted, step
    if first:
        found.append(Span(kind, first, steps[-1] if steps[-1] != first else None))
    return found


def glass_steps(steps: Iterable[Step], lines: Lines) -> list[Step]:
    """The steps at which the wine leaves its vessels."""
    kinds = defaultdict(set)
    for line, _ in lines:
        kinds[line.step_id].add(line.item.kind)
    return [step for step in steps if progress.fills_glass(step.title, kinds[step.template_id])]


def occupy(*, batch: Batch, found: Iterable[Span], vessels: str | Iterable[Vessel]) -> list[Span]:
    """Write the batch's use of the chosen vessels, or of free ones for `auto`.

    Returns the spans for which they hold too little; `auto` books nothing there. A chosen vessel of
    a kind that no step wants is left out.
    """
    chosen = vessels if vessels == AUTO else list(vessels)
    if chosen != AUTO and any(vessel.archived for vessel in chosen):
        raise Refusal("One of these vessels is no longer in use here.", field="vessels")
    rows, short = [], []
    for span in found:
        taken = _vessels_for(span, batch.volume, chosen)
        rows += [_use(batch, vessel, span) for vessel in taken]
        if sum(vessel.brimful for vessel in taken) < batch.volume:
            short.append(span)
    Occupancy.objects.bulk_create(rows)
    return short


def _use(batch: Batch, vessel: Vessel, span: Span) -> Occupancy:
    return Occupancy(
        vessel=vessel,
        batch=batch,
        first_step=span.first,
        last_step=span.last,
        begins=span.begins,
        ends=span.ends,
    )


def _vessels_for(span: Span, volume: int, chosen: str | list[Vessel]) -> list[Vessel]:
    if chosen != AUTO:
        return [vessel for vessel in chosen if vessel.kind == span.kind]
    found = free(kind=span.kind, begins=span.begins, ends=span.ends)
    return enough(found, brimful_wanted(span.kind, volume))


def brimful_wanted(kind: str, volume: int) -> int:
    """A lively must foams: an open vessel is not filled to the brim."""
    return ceil(volume / (1 - FOAM_SHARE)) if kind == VesselKind.OPEN else volume


def enough(vessels: Sequence[Vessel], volume: int) -> list[Vessel]:
    """The smallest that holds it all, else the largest ones that do together; none if they do not.

    Brimful against volume: whoever asks adds the room for foam.
    """
    rising = sorted(vessels, key=lambda vessel: (vessel.brimful, vessel.pk))
    whole = next((vessel for vessel in rising if vessel.brimful >= volume), None)
    if whole:
        return [whole]
    taken, held = [], 0
    for vessel in reversed(rising):
        taken.append(vessel)
        held += vessel.brimful
        if held >= volume:
            return taken
    return []


def free(*, kind: str, begins: date, ends: date) -> list[Vessel]:
    """Vessels of a kind that nobody uses in those days; `ends` is free again. One query."""
    busy = Occupancy.objects.filter(begins__lt=ends, ends__gt=begins).values("vessel")
    return list(Vessel.objects.filter(kind=kind, archived=False, lent_to="").exclude(pk__in=busy))


def follow(batch: Batch, steps: Iterable[Step]) -> None:
    """Let the batch's vessels begin and end with its steps, which have their new days."""
    by_pk = {step.pk: step for step in steps}
    changed = []
    for row in batch.occupancies.all():
        first, last = by_pk[row.first_step_id], by_pk.get(row.last_step_id)
        span = Span(row.vessel_id, first, last)
        if (row.begins, row.ends) != (span.begins, span.ends):
            row.begins, row.ends = span.begins, span.ends
            changed.append(row)
    Occupancy.objects.bulk_update(changed, ["begins", "ends"])


def emptied_by(step: Step) -> list[int]:
    """The vessels that a step empties, still clean by what was said; one query."""
    rows = Occupancy.objects.filter(last_step=step, vessel__to_wash=False)
    return list(rows.values_list("vessel", flat=True))


def remove(batch: Batch) -> list[dict]:
    """Free the batch's vessels; what was removed, so that `restore` brings it back."""
    rows = list(batch.occupancies.values("vessel_id", "first_step_id", "last_step_id"))
    batch.occupancies.all().delete()
    return rows


def restore(batch: Batch, removed: Iterable[dict], steps: Iterable[Step]) -> None:
    """Bring removed uses back, on the days their steps have now."""
    by_pk = {step.pk: step for step in steps}
    rows = []
    for values in removed:
        span = Span("", by_pk[values["first_step_id"]], by_pk.get(values["last_step_id"]))
        rows.append(Occupancy(batch=batch, begins=span.begins, ends=span.ends, **values))
    Occupancy.objects.bulk_create(rows)


def conflicts(*, vessel: Vessel | None = None, batch: Batch | None = None) -> list[Conflict]:
    """Every vessel wanted twice at once, by first day; one query.

    Of one vessel or of one batch if named.
    """
    rows = Occupancy.objects.select_related("vessel", "batch").order_by("vessel_id", "begins", "id")
    if vessel is not None:
        rows = rows.filter(vessel=vessel)
    if batch is not None:
        rows = rows.filter(Q(vessel__in=batch.occupancies.values("vessel")))
    found = [
        conflict
        for _, uses in groupby(rows, key=lambda row: row.vessel_id)
        for conflict in _overlaps(uses)
        if batch is None or batch.pk in (conflict.first.batch_id, conflict.second.batch_id)
    ]
    return sorted(found, key=lambda conflict: (conflict.begins, conflict.vessel.pk))


def _overlaps(uses: Iterable[Occupancy]) -> list[Conflict]:
    """Pairs of overlapping uses of one vessel, given by first day."""
    found, running = [], []
    for use in uses:
        running = [earlier for earlier in running if earlier.ends > use.begins]
        found += [
            Conflict(use.vessel, earlier, use, use.begins, min(earlier.ends, use.ends))
            for earlier in running
            if earlier.batch_id != use.batch_id
        ]
        running.append(use)
    return found
