"""Where does it go that was read off, measured and said while a step was done?"""

import datetime as dt
from collections.abc import Iterable

from inventory import clock
from inventory.models import Person
from inventory.values import check_columns
from planner import gates, progress, readings, step_gates, volumes
from planner.models import Batch, Cause, Override, Reading, Step, Transfer
from planner.models.book import ReadingKind
from planner.told import Told

# The first word of a step says what stays behind; verbs of the trade, common practice, no source.
LEFT_BEHIND = {
    "press": Cause.CAKE,
    "strain": Cause.CAKE,
    "sieve": Cause.CAKE,
    "rack": Cause.LEES,
    "siphon": Cause.LEES,
    "syphon": Cause.LEES,
}


def read_off(batch: Batch, told: Told, *, on: dt.date, by: Person | None) -> dict:
    """Write what was read into the book; what undoes it. The caller is atomic."""
    at = clock.moment(on)
    rows = []
    if told.must_c is not None:
        rows.append(_read(batch, ReadingKind.TEMPERATURE, told.must_c, at, by))
    if told.gravity is not None:
        rows.append(_read(batch, ReadingKind.GRAVITY, told.gravity, at, by, told.sample_c))
    return {"readings": [row.pk for row in rows]}


def measure(batch: Batch, step: Step, told: Told, *, on: dt.date, by: Person | None) -> dict:
    """Write the volume measured: the must that was made, else what the step left behind."""
    if told.volume is None:
        return {"acts": []}
    about = {"batch": batch, "volume": told.volume, "on": on, "by": by, "step": step}
    begun = Transfer.objects.filter(batch=batch).exists()
    if not begun and not Step.objects.filter(batch=batch, place__lt=step.place).exists():
        row = volumes.begin(**about)
    else:
        cause = LEFT_BEHIND.get(progress.first_word(step.title), Cause.MEASURED)
        row = volumes.measure(cause=cause, **about)
    return {"acts": [str(row.act)] if row else []}


def go_on(
    step: Step, verdicts: Iterable[gates.Verdict], reason: str, *, by: Person | None
) -> list[Override]:
    """Keep who went on, and why, where a gate says to look again; refuses without a reason."""
    rows = [
        Override(
            step=step,
            gate=verdict.gate,
            words=step_gates.words_of(verdict)[:400],
            reason=reason.strip(),
            by=by,
        )
        for verdict in step_gates.refuse_without_reason(verdicts, reason)
    ]
    for row in rows:
        check_columns(row, ["reason"])
    return Override.objects.bulk_create(rows)


def take_back(step: Step, data: dict, by: Person | None) -> None:
    """Undo what a step wrote into the book and the volume ledger."""
    for act in data.get("acts", []):
        volumes.write_opposite(act, by)
    for row in Reading.objects.filter(pk__in=data.get("readings", []), struck=""):
        readings.strike_quietly(row, "taken back with its step", by)
    Override.objects.filter(step=step, taken_back=False).update(taken_back=True)


def _read(
    batch: Batch,
    kind: ReadingKind,
    value: float,
    at: dt.datetime,
    by: Person | None,
    sample_c: float | None = None,
) -> Reading:
    return readings.record(
        batch=batch, kind=kind, value=value, at=at, by=by, temperature_c=sample_c
    )
