"""Which vessels does a batch stand in, which could it, and what helps where two want one?"""

import datetime as dt
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from math import ceil

from django.db import transaction

from inventory import activity
from inventory.models import Person, Vessel
from inventory.refusals import Refusal
from inventory.shown import day_text
from planner import occupancies, volumes
from planner.models import Batch, Occupancy, Step
from planner.occupancies import Conflict, Span, brimful_wanted, enough
from planner.steps import hold

# Beyond so many days nobody waits for a vessel.
FURTHEST_DAYS = 730


@dataclass(frozen=True)
class Offer:
    """One vessel for a span: whether the batch has it, and who else wants it in those days."""

    vessel: Vessel
    is_taken: bool
    others: tuple[Occupancy, ...]

    @property
    def words(self) -> str:
        away = f"lent to {self.vessel.lent_to}" if self.vessel.lent_to else ""
        if not self.others:
            return away or ("free, to be washed" if self.vessel.to_wash else "free")
        return "; ".join(f"{use.batch}, until {day_text(use.ends)}" for use in self.others)


@dataclass(frozen=True)
class Choice:
    """A span of a batch with every vessel of its kind, and what it wants to the brim."""

    span: Span
    wanted: int
    offers: list[Offer]
    earliest: dt.date | None

    @property
    def held(self) -> int:
        return sum(offer.vessel.brimful for offer in self.offers if offer.is_taken)

    @property
    def short(self) -> int:
        return max(0, self.wanted - self.held)


def spans_of(batch: Batch, steps: Sequence[Step]) -> list[Span]:
    """Where the batch stands, by its version; one query."""
    lines = [(line, 0) for line in batch.recipe_version.lines.select_related("item")]
    return occupancies.spans(steps, lines)


def choices(batch: Batch) -> list[Choice]:
    """Every span with what is free for it; five queries whatever the number of vessels."""
    steps = list(batch.steps.select_related("template").order_by("place"))
    vessels = list(Vessel.objects.filter(archived=False).order_by("-brimful", "name"))
    uses = list(Occupancy.objects.select_related("batch").order_by("begins", "pk"))
    amount = volumes.of_batch(batch).amount
    return [_choice(batch, span, amount, vessels, uses) for span in spans_of(batch, steps)]


def _choice(
    batch: Batch, span: Span, amount: int, vessels: list[Vessel], uses: list[Occupancy]
) -> Choice:
    own = {
        use.vessel_id
        for use in uses
        if use.batch_id == batch.pk and use.first_step_id == span.first.pk
    }
    others = [use for use in uses if use.batch_id != batch.pk]
    kind = [vessel for vessel in vessels if vessel.kind == span.kind]
    offers = [
        Offer(
            vessel,
            vessel.pk in own,
            tuple(
                use
                for use in others
                if use.vessel_id == vessel.pk and use.begins < span.ends and use.ends > span.begins
            ),
        )
        for vessel in kind
    ]
    wanted = brimful_wanted(span.kind, amount)
    return Choice(span, wanted, offers, earliest_start(span, wanted, kind, others))


def earliest_start(
    span: Span, wanted: int, vessels: Sequence[Vessel], others: Sequence[Occupancy]
) -> dt.date | None:
    """The first day from the span's own on which enough vessels are free for all of it.

    None where they hold too little altogether, or nothing is free within two years.
    """
    if not enough(vessels, wanted):
        return None
    length = span.ends - span.begins
    days = {span.begins, *(use.ends for use in others if use.ends > span.begins)}
    for day in sorted(days):
        if (day - span.begins).days > FURTHEST_DAYS:
            return None
        busy = {use.vessel_id for use in others if use.begins < day + length and use.ends > day}
        if enough([vessel for vessel in vessels if vessel.pk not in busy], wanted):
            return day
    return None


@transaction.atomic
def choose(
    *, batch: Batch, chosen: Mapping[int, Iterable[Vessel]], by: Person | None
) -> list[Occupancy]:
    """Book these vessels for the spans that begin with these steps (by key), instead of what was.

    A vessel wanted twice is not refused but listed by `occupancies.conflicts`. Atomic; can be undone.
    """
    held, steps = hold(batch.pk)
    spans = {span.first.pk: span for span in spans_of(held, steps)}
    rows = []
    for key, vessels in chosen.items():
        span = spans.get(key)
        if span is None:
            raise Refusal("That step fills no vessel any more.")
        for vessel in vessels:
            if vessel.archived or vessel.kind != span.kind:
                raise Refusal(f"{vessel} is not for that.", field=f"span_{key}")
            rows.append(
                Occupancy(
                    vessel=vessel,
                    batch=held,
                    first_step=span.first,
                    last_step=span.last,
                    begins=span.begins,
                    ends=span.ends,
                )
            )
    removed = occupancies.remove(held)
    Occupancy.objects.bulk_create(rows)
    names = ", ".join(dict.fromkeys(row.vessel.name for row in rows)) or "nothing"
    activity.record(
        by=by,
        verb="vessels",
        subject=held,
        summary=f"{held} stands in {names}",
        undo="vessel_choice.choose",
        undo_data={"batch": held.pk, "former": removed},
    )
    return rows


@activity.undoes("vessel_choice.choose")
def _undo_choose(data: dict, by: Person | None) -> None:
    held, steps = hold(data["batch"])
    occupancies.remove(held)
    occupancies.restore(held, data["former"], steps)


def ways_out(conflict: Conflict) -> list[str]:
    """What helps: another vessel, emptying it earlier, a later start; three queries."""
    use = conflict.second
    wanted = _share(use)
    free = [
        vessel
        for vessel in occupancies.free(kind=use.vessel.kind, begins=use.begins, ends=use.ends)
        if vessel.brimful >= wanted
    ]
    found = []
    if free:
        best = min(free, key=lambda vessel: vessel.brimful)
        found.append(f"put {use.batch} into {best} instead")
    found.append(
        f"empty {conflict.vessel} of {conflict.first.batch} by {day_text(conflict.begins)}"
    )
    later = (conflict.first.ends - use.begins).days
    found.append(
        f"begin {use.batch} {later} day{'s' if later != 1 else ''} later, on "
        f"{day_text(use.batch.start + dt.timedelta(days=later))}"
    )
    return found


def _share(use: Occupancy) -> int:
    """What this vessel must hold: the batch's volume over the vessels it stands in then."""
    together = Occupancy.objects.filter(batch=use.batch_id, first_step=use.first_step_id).count()
    return ceil(brimful_wanted(use.vessel.kind, use.batch.volume) / max(1, together))
