"""Until when does a pick keep, by the plant's own figures, in a room, a fridge or a freezer? Pure."""

import calendar
import datetime as dt
import re

# Common practice, no source: from here down a place counts as a fridge, and as a freezer.
FRIDGE_C, FREEZER_C = 8, -12
NUMBER = re.compile(r"\d+(?:\.\d+)?")


def until(
    *,
    picked: dt.datetime,
    room_days: str,
    fridge_days: str,
    freezer_months: str,
    warmth_c: float | None,
) -> dt.datetime | None:
    """The moment up to which it keeps; none where that is not known.

    The figures are the catalogue's, such as "0.5" or "2-3": the shorter end counts. `picked` carries
    its time zone. Hours run on through a change of the clocks; months go by the calendar, to the same
    time of day. A place of unknown warmth counts as a room.
    """
    if warmth_c is not None and warmth_c <= FREEZER_C:
        months = _shorter(freezer_months)
        return None if months is None else _months_later(picked, int(months))
    cool = warmth_c is not None and warmth_c <= FRIDGE_C
    days = _shorter(fridge_days if cool else room_days)
    if days is None:
        return None
    return (picked.astimezone(dt.UTC) + dt.timedelta(days=days)).astimezone(picked.tzinfo)


def last_day(moment: dt.datetime) -> dt.date:
    """The last day on any part of which it keeps."""
    return (moment - dt.timedelta(seconds=1)).date()


def _shorter(text: str) -> float | None:
    found = NUMBER.search(text or "")
    return float(found[0]) if found else None


def _months_later(moment: dt.datetime, months: int) -> dt.datetime:
    years, month = divmod(moment.month - 1 + months, 12)
    year, month = moment.year + years, month + 1
    day = min(moment.day, calendar.monthrange(year, month)[1])
    return moment.replace(year=year, month=month, day=day)
