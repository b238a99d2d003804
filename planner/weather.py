"""How warm was it here, how warm is it usually, and who brought those figures?"""

import datetime as dt
from collections.abc import Mapping, Sequence
from functools import lru_cache

from django.db import transaction

from inventory import activity, clock
from inventory.models import Household, Person
from inventory.refusals import Refusal
from inventory.shown import day_text
from inventory.values import check_columns
from planner import weather_files
from planner.models import Normals, WeatherDay, WeatherFile
from planner.models.weather import ReadAt
from planner.phenology import Weather, common_day, means_of, normal_year
from planner.phenology.normals import LAPSE_C_PER_100_M
from planner.weather_files import Found

HUNDREDTHS = 100
ONE_DAY = dt.timedelta(days=1)
State = WeatherFile.State
Years = dict[int, dict[int, tuple[float, float]]]


@transaction.atomic
def look_at(
    *,
    name: str,
    data: bytes,
    by: Person | None,
    height_m: int | None = None,
    read_at: str = ReadAt.MIDNIGHT,
) -> WeatherFile:
    """Read a daily file and keep it apart: nothing counts before it is taken in.

    Atomic; refuses what cannot be read. What this person looked at before and left is forgotten.
    """
    found = weather_files.read(data)
    if found.months:
        raise Refusal(
            "This file holds months, not days: bring it under “Usual months”.", field="file"
        )
    if read_at not in ReadAt.values:
        raise Refusal(f"{read_at!r} is no way to read a day.", field="read_at")
    days = {day: pair for day, pair in _as_read_at(found, read_at).items() if day < clock.today()}
    if not days:
        raise Refusal("All of its days are still to come.", field="file")
    left_out = len(found.days) - len(days)
    oddities = [
        *found.oddities,
        *([f"Left out: {left_out} that are not over yet."] * bool(left_out)),
    ]
    WeatherFile.objects.filter(state=State.LOOKED_AT, by=by).delete()
    file = WeatherFile(
        name=name[:120] or "a file",
        kind=found.kind,
        height_m=height_m,
        read_at=read_at,
        oddities="\n".join(oddities),
        first=min(days),
        last=max(days),
        missing=found.missing,
        by=by,
    )
    check_columns(file, ["name"])
    file.save(force_insert=True)
    WeatherDay.objects.bulk_create(
        [
            WeatherDay(file=file, day=day, low=_hundredths(low), high=_hundredths(high))
            for day, (low, high) in days.items()
        ],
        batch_size=5000,
    )
    return file


def _as_read_at(found: Found, read_at: str) -> Mapping[dt.date, tuple]:
    """With thermometers read in the morning the highest is that of the day before."""
    if read_at == ReadAt.MIDNIGHT:
        return found.days
    moved: dict[dt.date, tuple] = {}
    for day, (low, _) in found.days.items():
        _, high = found.days.get(day + ONE_DAY, (None, None))
        if low is not None and high is not None and low > high:
            low = high = None
        moved[day] = (low, high)
    return moved


def _hundredths(value: float | None) -> int | None:
    return None if value is None else round(value * HUNDREDTHS)


@transaction.atomic
def take_in(*, file: WeatherFile, by: Person | None) -> WeatherFile:
    """Let the days of a file count; where files overlap the newest one does. Can be undone."""
    held = WeatherFile.objects.select_for_update(of=("self",)).get(pk=file.pk)
    if held.state == State.TAKEN_IN:
        raise Refusal("It has been taken in already.")
    held.state = State.TAKEN_IN
    held.save(update_fields=["state"])
    activity.record(
        by=by,
        verb="take in",
        subject=held,
        summary=f"Took in the weather of {held}, {day_text(held.first)} to {day_text(held.last)}",
        undo="weather.take_in",
        undo_data={"file": held.pk},
    )
    return held


@activity.undoes("weather.take_in")
def _undo_take_in(data: dict, by: Person | None) -> None:
    changed = WeatherFile.objects.filter(pk=data["file"], state=State.TAKEN_IN)
    if not changed.update(state=State.TAKEN_BACK):
        raise Refusal("It has been taken back already.")


@transaction.atomic
def set_normals(
    *,
    name: str,
    lows: Sequence[float],
    highs: Sequence[float],
    by: Person | None,
    height_m: int | None = None,
) -> Normals:
    """Say how warm the months usually are, January first; atomic, can be undone."""
    try:
        normal_year(lows, highs)
    except ValueError as wrong:
        raise Refusal(str(wrong)) from None
    row = Normals(name=name, height_m=height_m, by=by)
    row.lows = [_hundredths(value) for value in lows]
    row.highs = [_hundredths(value) for value in highs]
    check_columns(row, ["name"])
    row.save(force_insert=True)
    activity.record(
        by=by,
        verb="normals",
        subject=row,
        summary=f"Took the usual months of {row}",
        undo="weather.set_normals",
        undo_data={"normals": row.pk},
    )
    return row


@activity.undoes("weather.set_normals")
def _undo_set_normals(data: dict, by: Person | None) -> None:
    if not Normals.objects.filter(pk=data["normals"], taken_back=False).update(taken_back=True):
        raise Refusal("It has been taken back already.")


def normals() -> Normals | None:
    """The usual months in force: those said last; one query."""
    return Normals.objects.filter(taken_back=False).first()


def here(house: Household) -> Weather | None:
    """The days and usual months at the height of the house; two queries, a third when they changed.

    None where neither files nor usual months are enough for a whole year.
    """
    files = WeatherFile.objects.filter(state=State.TAKEN_IN).order_by("pk")
    stamps = tuple(files.values_list("pk", "recorded_at", "height_m"))
    usual = normals()
    usual_stamp = (usual.pk, usual.recorded_at) if usual else None
    if not stamps and usual is None:
        return None
    return _here(stamps, usual_stamp, house.height_m)


@lru_cache(maxsize=4)
def _here(stamps: tuple, usual_stamp: tuple | None, height_m: int) -> Weather | None:
    """Files and normals never change once they are kept, so their stamps stand for them."""
    years = _years(stamps, height_m)
    if usual_stamp:
        row = Normals.objects.get(pk=usual_stamp[0])
        off = _cooler(row.height_m, height_m)
        lows = [value / HUNDREDTHS + off for value in row.lows]
        highs = [value / HUNDREDTHS + off for value in row.highs]
        return Weather(years, normal_year(lows, highs))
    means = means_of(list(years.values()))
    return Weather(years, means) if means else None


def _years(stamps: tuple, height_m: int) -> Years:
    off = {key: _cooler(height, height_m) for key, _, height in stamps}
    rows = WeatherDay.objects.filter(file__in=off).order_by("file", "day")
    held: dict[dt.date, list] = {}
    for file, day, low, high in rows.values_list("file", "day", "low", "high"):
        pair = held.setdefault(day, [None, None])
        for n, value in enumerate((low, high)):
            if value is not None:
                pair[n] = value / HUNDREDTHS + off[file]
    years: Years = {}
    for day, (low, high) in held.items():
        if low is not None and high is not None and low <= high:
            years.setdefault(day.year, {})[common_day(day)] = (low, high)
    return years


def _cooler(from_m: int | None, to_m: int) -> float:
    """Degrees by which it is warmer here than where it was read; nothing where that is not known."""
    return 0.0 if from_m is None else -LAPSE_C_PER_100_M * (to_m - from_m) / 100
