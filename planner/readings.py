"""What was read off a batch, when and by whom?"""

import datetime as dt

from django.db import transaction
from django.utils import timezone

from inventory import activity, clock
from inventory.models import Person
from inventory.refusals import Refusal
from inventory.shown import day_text
from inventory.values import check_columns, check_text
from planner.models import Batch, Reading
from planner.models.book import ReadingKind

# Clocks of two devices differ a little.
SLACK = dt.timedelta(minutes=5)
# Outside these a slip of the pen is likelier than the drink; common practice, no source.
SPANS = {
    ReadingKind.GRAVITY: (0.95, 1.2),
    ReadingKind.TEMPERATURE: (-5.0, 60.0),
    ReadingKind.PH: (1.5, 9.0),
    ReadingKind.ACID: (0.0, 40.0),
    ReadingKind.FREE_SO2: (0.0, 500.0),
    ReadingKind.TOTAL_SO2: (0.0, 500.0),
    ReadingKind.TASTE: (0.0, 0.0),
    ReadingKind.CLARITY: (0.0, 4.0),
}
# How clear it is, in words from the murkiest; common practice, no source.
CLARITY = ("cloudy", "hazy", "clearing", "clear", "bright")


@transaction.atomic
def record(
    *,
    batch: Batch,
    kind: str,
    value: float,
    at: dt.datetime,
    by: Person | None,
    temperature_c: float | None = None,
    reference_c: float | None = None,
    acid_as: str = "",
    note: str = "",
) -> Reading:
    """Write one reading down, raw; atomic, leaves an activity. It is struck through, never erased."""
    kind = _known(kind)
    _refuse_bad_moment(batch, at)
    _refuse_bad_value(kind, value)
    if reference_c is not None and not 10 <= reference_c <= 25:
        raise Refusal("A hydrometer is made for 10 to 25 °C.", field="reference")
    if kind == ReadingKind.TASTE:
        check_text(note, field="value", says="Say how it tastes.")
    reading = Reading(
        batch=batch,
        kind=kind,
        value=round(value * kind.size),
        temperature=None if temperature_c is None else round(temperature_c * 1000),
        reference=None if reference_c is None else round(reference_c * 1000),
        acid_as=acid_as,
        note=note,
        at=at,
        by=by,
    )
    _refuse_more_free_than_total(reading)
    check_columns(reading, ["note", "acid_as"])
    reading.save(force_insert=True)
    activity.record(
        by=by,
        verb="read",
        subject=reading,
        summary=f"Read {words_of(reading)} of {batch}",
        undo="readings.record",
        undo_data={"reading": reading.pk},
    )
    return reading


@transaction.atomic
def strike(*, reading: Reading, reason: str, by: Person | None) -> Reading:
    """Strike a wrong reading through, with the reason; it stays to be seen. Can be undone."""
    check_text(reason, field="reason", says="Say why it is wrong.")
    held = Reading.objects.select_for_update().get(pk=reading.pk)
    if held.struck:
        raise Refusal("It is struck through already.")
    strike_quietly(held, reason, by)
    activity.record(
        by=by,
        verb="strike",
        subject=held,
        summary=f"Struck through {words_of(held)} of {held.batch}: {reason}",
        undo="readings.strike",
        undo_data={"reading": held.pk},
    )
    return held


@activity.undoes("readings.record")
def _undo_record(data: dict, by: Person | None) -> None:
    held = Reading.objects.select_for_update().get(pk=data["reading"])
    if held.struck:
        raise Refusal("It is struck through already.")
    strike_quietly(held, "taken back", by)


@activity.undoes("readings.strike")
def _undo_strike(data: dict, by: Person | None) -> None:
    held = Reading.objects.select_for_update().get(pk=data["reading"])
    strike_quietly(held, "", None)


def strike_quietly(reading: Reading, reason: str, by: Person | None) -> None:
    """As part of a larger act; an empty reason lets it count again."""
    reading.struck, reading.struck_by = reason, by
    check_columns(reading, ["struck"])
    reading.save(update_fields=["struck", "struck_by"])


def words_of(reading: Reading) -> str:
    """A reading in words, as it was read."""
    kind = ReadingKind(reading.kind)
    if kind == ReadingKind.TASTE:
        return f"taste: {reading.note}"
    if kind == ReadingKind.CLARITY:
        return f"it is {CLARITY[round(reading.number)]}"
    places = {ReadingKind.GRAVITY: 4, ReadingKind.PH: 2}.get(kind, 1)
    unit = {"degC": " °C", "g/L": " g/L", "mg/L": " mg/L"}.get(kind.unit, "")
    at = "" if reading.temperature is None else f" at {reading.temperature / 1000:g} °C"
    acid = f" as {reading.acid_as}" if reading.acid_as else ""
    return f"{kind.label} {reading.number:.{places}f}{unit}{at}{acid}"


def _known(kind: str) -> ReadingKind:
    if kind not in ReadingKind.values:
        raise Refusal(f"{kind!r} is nothing that is read here.", field="kind")
    return ReadingKind(kind)


def _refuse_bad_moment(batch: Batch, at: dt.datetime) -> None:
    day = timezone.localtime(at).date()
    if day > clock.today():
        raise Refusal(f"{day_text(day)} is still to come.", field="on")
    if day == clock.today() == timezone.localdate() and at > timezone.now() + SLACK:
        raise Refusal(f"{timezone.localtime(at):%H:%M} is still to come.", field="time")
    if day < batch.start:
        raise Refusal(
            f"{batch} begins on {day_text(batch.start)}; a reading comes after.", field="on"
        )
    if batch.state == Batch.State.DROPPED:
        raise Refusal(f"{batch} has been dropped; take that back first.")


def _refuse_bad_value(kind: ReadingKind, value: float) -> None:
    low, high = SPANS[kind]
    if not low <= value <= high:
        raise Refusal(
            f"{kind.label} lies between {low:g} and {high:g}, not {value:g}.", field="value"
        )


def _refuse_more_free_than_total(reading: Reading) -> None:
    """Of two readings of one day free SO2 is never the larger."""
    pair = {ReadingKind.FREE_SO2: 1, ReadingKind.TOTAL_SO2: -1}
    sign = pair.get(reading.kind)
    if sign is None:
        return
    other = (set(pair) - {reading.kind}).pop()
    day = timezone.localtime(reading.at).date()
    rows = Reading.objects.filter(batch=reading.batch, kind=other, struck="", at__date=day)
    for value in rows.values_list("value", flat=True):
        if sign * (reading.value - value) > 0:
            free, total = sorted((reading.value, value), reverse=True)
            raise Refusal(
                f"Free SO2 of {free / 1000:g} mg/L cannot be more than the total of "
                f"{total / 1000:g} mg/L.",
                field="value",
            )
