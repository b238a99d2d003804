"""How much of a batch is there today, and what made it more or less?

Today's volume is the sum of its lines; a batch without lines stands at its planned volume, on trust.
"""

import datetime as dt
import uuid
from collections.abc import Iterable
from dataclasses import dataclass

from django.db import transaction
from django.db.models import Sum

from inventory import activity, clock
from inventory.models import Person
from inventory.refusals import Refusal
from inventory.shown import day_text, quantity_text
from inventory.units import METRIC, Base
from inventory.values import check_columns, check_day, check_quantity
from planner import glass_needs
from planner.models import Batch, Cause, Step, Transfer
from planner.models.volume import LOSSES
from planner.progress import ENDED

# Said by hand on the page of a batch; the others are written by what they belong to.
BY_HAND = (
    Cause.SAMPLE,
    Cause.LEES,
    Cause.CAKE,
    Cause.HOSE,
    Cause.AIR,
    Cause.SPILT,
    Cause.TOPPED,
    Cause.ADDED,
)


@dataclass(frozen=True)
class Volume:
    """Microlitres of a batch; `is_counted` tells that lines stand behind it, not the plan alone."""

    amount: int
    is_counted: bool

    @property
    def known(self) -> str:
        return "volume ledger" if self.is_counted else "must"


@dataclass(frozen=True)
class Line:
    """A line of the ledger with what there was after it."""

    row: Transfer
    left: int
    is_taken_back: bool


def of_batch(batch: Batch) -> Volume:
    """What there is of it; one query."""
    return of_batches([batch])[batch.pk]


def of_batches(batches: Iterable[Batch]) -> dict[int, Volume]:
    """By batch what there is of it; one query."""
    by_key = {batch.pk: batch for batch in batches}
    rows = Transfer.objects.filter(batch__in=by_key).order_by()
    sums = dict(rows.values_list("batch").annotate(Sum("change")))
    return {key: Volume(sums.get(key, batch.volume), key in sums) for key, batch in by_key.items()}


def lines_of(batch: Batch) -> list[Line]:
    """Every line with what was left after it, oldest first; one query."""
    rows = list(Transfer.objects.filter(batch=batch).select_related("by", "other", "step"))
    gone = {row.undoes_id for row in rows if row.undoes_id}
    found, left = [], 0
    for row in rows:
        left += row.change
        found.append(Line(row, left, row.pk in gone or row.undoes_id is not None))
    return found


@transaction.atomic
def begin(
    *, batch: Batch, volume: int, on: dt.date, by: Person | None, step: Step | None = None
) -> Transfer:
    """The must stands in its vessel and has been measured; once for a batch. Can be undone."""
    held = _hold(batch, on)
    if Transfer.objects.filter(batch=held).exists():
        raise Refusal(f"The volume of {held} has been begun already; measure it anew.")
    row = write(batch=held, cause=Cause.MADE, change=volume, on=on, by=by, step=step)
    _record([row], by, f"{_litres(volume)} of must made for {held}")
    return row


@transaction.atomic
def take(
    *,
    batch: Batch,
    cause: str,
    amount: int,
    on: dt.date,
    by: Person | None,
    step: Step | None = None,
    note: str = "",
) -> Transfer:
    """Less of it by a sample, lees, hose and the like; never more than there is. Can be undone."""
    if cause not in LOSSES:
        raise Refusal(f"{cause!r} takes nothing away.", field="cause")
    check_quantity(amount, field="amount")
    held = _hold(batch, on)
    stand(held, on, by)
    row = write(batch=held, cause=cause, change=-amount, on=on, by=by, step=step, note=note)
    _record([row], by, f"{_litres(amount)} of {held} {row.get_cause_display()}")
    return row


@transaction.atomic
def put(
    *, batch: Batch, cause: str, amount: int, on: dt.date, by: Person | None, note: str = ""
) -> Transfer:
    """More of it by topping up or stirring in. Can be undone."""
    if cause not in (Cause.TOPPED, Cause.ADDED):
        raise Refusal(f"{cause!r} adds nothing.", field="cause")
    check_quantity(amount, field="amount")
    held = _hold(batch, on)
    stand(held, on, by)
    row = write(batch=held, cause=cause, change=amount, on=on, by=by, note=note)
    _record([row], by, f"{_litres(amount)} {row.get_cause_display()} in {held}")
    return row


def swell(*, batch: Batch, amount: int, on: dt.date, by: Person | None, note: str = "") -> Transfer:
    """What an addition brings to the volume, as part of it; the caller is atomic and records."""
    held = _hold(batch, on)
    stand(held, on, by)
    return write(batch=held, cause=Cause.ADDED, change=amount, on=on, by=by, note=note)


@transaction.atomic
def measure(
    *,
    batch: Batch,
    volume: int,
    on: dt.date,
    by: Person | None,
    cause: str = Cause.MEASURED,
    step: Step | None = None,
    note: str = "",
) -> Transfer | None:
    """It was measured: the difference is one line, of the cause given where it is a loss.

    None where nothing differs. Can be undone.
    """
    check_quantity(volume, least=0, field="volume")
    held = _hold(batch, on)
    stand(held, on, by)
    change = volume - of_batch(held).amount
    if not change:
        return None
    if change > 0 or cause not in LOSSES:
        cause = Cause.MEASURED
    row = write(batch=held, cause=cause, change=change, on=on, by=by, step=step, note=note)
    _record([row], by, f"{held} measured: {_litres(volume)}")
    return row


@transaction.atomic
def pour(
    *, source: Batch, target: Batch, amount: int, on: dt.date, by: Person | None, note: str = ""
) -> list[Transfer]:
    """Some of one batch into another: two lines of one act, or neither. Can be undone."""
    if source.pk == target.pk:
        raise Refusal("Choose another batch to pour it into.", field="target")
    check_quantity(amount, field="amount")
    first, second = _hold_both(source, target, on)
    for batch in (first, second):
        stand(batch, on, by)
    rows = write_pour(source=first, target=second, amount=amount, on=on, by=by, note=note)
    _record(rows, by, f"{_litres(amount)} of {first} poured into {second}")
    return rows


def write_pour(
    *,
    source: Batch,
    target: Batch,
    amount: int,
    on: dt.date,
    by: Person | None,
    cause: str = Cause.POURED_IN,
    note: str = "",
) -> list[Transfer]:
    """The two lines as part of a larger act; the caller holds both batches and records."""
    more = {"cause": cause, "on": on, "by": by, "note": note, "act": uuid.uuid4()}
    return [
        write(batch=source, other=target, change=-amount, **more),
        write(batch=target, other=source, change=amount, **more),
    ]


def write(
    *,
    batch: Batch,
    cause: str,
    change: int,
    on: dt.date,
    by: Person | None,
    step: Step | None = None,
    other: Batch | None = None,
    note: str = "",
    act: uuid.UUID | None = None,
) -> Transfer:
    """One line as part of a larger act; refuses to leave less than nothing."""
    there = Transfer.objects.filter(batch=batch).aggregate(sum=Sum("change"))["sum"] or 0
    if there + change < 0:
        raise Refusal(
            f"{_litres(-change)} wanted, {_litres(there)} of {batch} are there.", field="amount"
        )
    row = Transfer(batch=batch, cause=cause, change=change, day=on, step=step, other=other, by=by)
    row.note, row.act = note, act or uuid.uuid4()
    check_columns(row, ["note", "cause"])
    row.save(force_insert=True)
    return row


def write_opposite(act: str, by: Person | None) -> None:
    """Take every line of an act back; the caller is atomic."""
    rows = list(Transfer.objects.filter(act=act, undoes=None).select_related("batch"))
    if not rows or Transfer.objects.filter(undoes__in=rows).exists():
        raise Refusal("This has been taken back already.")
    keys = [row.batch_id for row in rows]
    list(Batch.objects.select_for_update(no_key=True).filter(pk__in=keys).order_by("pk"))
    for row in rows:
        there = Transfer.objects.filter(batch=row.batch).aggregate(sum=Sum("change"))["sum"] or 0
        if there - row.change < 0:
            raise Refusal(
                f"Only {_litres(there)} of {row.batch} are left; take later lines back first."
            )
        same = {"batch": row.batch, "cause": row.cause, "day": row.day, "other": row.other}
        Transfer.objects.create(change=-row.change, act=row.act, by=by, undoes=row, **same)
    _let_glass_follow(rows, by)


@activity.undoes("volumes.write")
def _undo_write(data: dict, by: Person | None) -> None:
    write_opposite(data["act"], by)


def stand(batch: Batch, on: dt.date, by: Person | None) -> None:
    """A batch whose making nobody measured begins its ledger at the planned volume."""
    if not Transfer.objects.filter(batch=batch).exists():
        note = "as planned; nobody measured it"
        write(
            batch=batch,
            cause=Cause.MADE,
            change=batch.volume,
            on=min(on, batch.start),
            by=by,
            note=note,
        )


def _hold(batch: Batch, on: dt.date) -> Batch:
    held = Batch.objects.select_for_update(no_key=True).get(pk=batch.pk)
    refuse_bad_day(held, on)
    return held


def _hold_both(source: Batch, target: Batch, on: dt.date) -> tuple[Batch, Batch]:
    rows = Batch.objects.select_for_update(no_key=True).filter(pk__in=[source.pk, target.pk])
    held = {row.pk: row for row in rows.order_by("pk")}
    for row in held.values():
        refuse_bad_day(row, on)
    return held[source.pk], held[target.pk]


def refuse_bad_day(batch: Batch, on: dt.date) -> None:
    """Refuse a day to come, one before the batch begins, and a batch that has ended."""
    check_day(on, field="on")
    if on > clock.today():
        raise Refusal(f"{day_text(on)} is still to come.", field="on")
    if on < batch.start:
        raise Refusal(f"{batch} begins on {day_text(batch.start)}.", field="on")
    if batch.state in ENDED:
        raise Refusal(f"{batch} is {batch.get_state_display()}.")


def _record(rows: list[Transfer], by: Person | None, summary: str) -> None:
    _let_glass_follow(rows, by)
    activity.record(
        by=by,
        verb="volume",
        subject=rows[0],
        summary=summary,
        undo="volumes.write",
        undo_data={"act": str(rows[0].act)},
    )


def _let_glass_follow(rows: Iterable[Transfer], by: Person | None) -> None:
    for batch in {row.batch_id: row.batch for row in rows}.values():
        glass_needs.follow(batch, of_batch(batch).amount, by=by)


def _litres(amount: int) -> str:
    return quantity_text(amount, Base.UL, METRIC)
