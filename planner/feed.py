"""What is in the calendar? Steps, harvest windows and order-by days as iCalendar text.

RFC 5545 with the calendar properties of RFC 7986. All days are all-day events whose end is the
day after. The same rows always give the same bytes.
"""

import datetime as dt
import hashlib
import uuid
from collections.abc import Iterable
from functools import lru_cache
from typing import NamedTuple

from django.conf import settings
from django.db.models import Q, QuerySet
from django.urls import reverse
from icalendar import Calendar, Timezone, TimezoneStandard, vText, vUri
from icalendar.parser import Contentline, Parameters

from inventory.models import Activity
from planner.harvest import PlantWindow
from planner.models import Step

PRODUCT = "-//Maythorn//planner//EN"
# Stands behind every identifier; neutral, so that a feed does not name its house.
DOMAIN = "maythorn"
NAMESPACE = uuid.uuid5(uuid.NAMESPACE_URL, "urn:maythorn:feed")
# Calendars take it as a hint only: those of phones ask every 8 to 24 hours whatever it says.
REFRESH = dt.timedelta(hours=6)
# Long enough for a calendar that asks once a month to hear that a step is off.
CANCELLED_DAYS = 60
# Raised when the text of an unchanged row changes, so that no calendar keeps the older text.
FORMAT = 1
NO_PARAMETERS = Parameters()
ONE_DAY = dt.timedelta(days=1)
OFF = (Step.State.CANCELLED, Step.State.SKIPPED)
STEP_COLUMNS = (
    "uid",
    "changed_at",
    "sequence",
    "day",
    "batch__name",
    "title",
    "notes",
    "batch_id",
    "state",
)


class Entry(NamedTuple):
    """One event: days from first to last, both included; `stamp` is when it last changed."""

    uid: object
    stamp: dt.datetime
    sequence: int
    first: dt.date
    last: dt.date
    summary: str
    description: str
    url: str
    off: bool
    alarm_hours: int | None


class Order(NamedTuple):
    """What must be ordered by a day; `key` tells it from the house's other orders."""

    key: str
    day: dt.date
    summary: str
    description: str
    path: str


def calendar(
    *,
    name: str,
    steps: QuerySet[Step] | None = None,
    windows: Iterable[PlantWindow] = (),
    orders: Iterable[Order] = (),
    alarm_hours: int | None = None,
    uid: str = "",
    stamp: dt.datetime | None = None,
) -> bytes:
    """The whole calendar as bytes; one query for the steps, none else.

    `stamp` is when windows and orders last changed; `uid` defaults to one made from the name.
    """
    entries = [] if steps is None else step_entries(steps, alarm_hours)
    entries += window_entries(windows, stamp, alarm_hours)
    entries += order_entries(orders, stamp, alarm_hours)
    head, foot = _frame(name, uid or str(uuid.uuid5(NAMESPACE, name)), not entries)
    return "".join([head, *map(_text, entries), foot]).encode()


def shown(steps: QuerySet[Step], today: dt.date) -> QuerySet[Step]:
    """The steps a feed still tells of: of the last year and all to come, cancelled for a while."""
    since = today - dt.timedelta(days=CANCELLED_DAYS)
    long_off = Q(state__in=OFF, changed_at__lt=dt.datetime.combine(since, dt.time(), dt.UTC))
    return steps.filter(day__gte=today - dt.timedelta(days=366)).exclude(long_off)


def etag(*, today: dt.date, key: object = "") -> str:
    """A mark that changes with every activity, day, house address and kind of text; one query."""
    last = Activity.objects.order_by("-id").values_list("id", flat=True).first()
    parts = f"{FORMAT} {settings.SITE_URL} {today} {key} {last}"
    return f'"{hashlib.sha256(parts.encode()).hexdigest()[:32]}"'


def step_entries(steps: QuerySet[Step], alarm_hours: int | None) -> list[Entry]:
    site = settings.SITE_URL + reverse("planner:batch-detail", args=[0])
    before, after = site.rsplit("0", 1)
    rows = steps.order_by("day", "batch_id", "place").values_list(*STEP_COLUMNS)
    return [
        Entry(
            key,
            changed,
            sequence,
            day,
            day,
            f"{batch}: {title}",
            notes,
            f"{before}{pk}{after}",
            state in OFF,
            alarm_hours,
        )
        for key, changed, sequence, day, batch, title, notes, pk, state in rows.iterator()
    ]


def window_entries(
    windows: Iterable[PlantWindow], stamp: dt.datetime | None, alarm_hours: int | None
) -> list[Entry]:
    return [
        Entry(
            uid=f"window-{window.plant.slug}-{window.first.year}",
            stamp=stamp or _midnight(window.first),
            sequence=0,
            first=window.first,
            last=window.last,
            summary=f"{window.plant.common_name}: {window.plant.part or 'to be picked'}",
            description=(
                f"Best about {window.peak.day} {window.peak:%b}. Worked out for this house; in "
                f"four years of five it opens from {window.earliest.day} {window.earliest:%b} to "
                f"{window.latest.day} {window.latest:%b}."
            ),
            url=settings.SITE_URL + window.plant.get_absolute_url(),
            off=False,
            alarm_hours=alarm_hours,
        )
        for window in windows
    ]


def order_entries(
    orders: Iterable[Order], stamp: dt.datetime | None, alarm_hours: int | None
) -> list[Entry]:
    return [
        Entry(
            uid=f"order-{order.key}",
            stamp=stamp or _midnight(order.day),
            sequence=0,
            first=order.day,
            last=order.day,
            summary=order.summary,
            description=order.description,
            url=settings.SITE_URL + order.path,
            off=False,
            alarm_hours=alarm_hours,
        )
        for order in orders
    ]


def _midnight(day: dt.date) -> dt.datetime:
    return dt.datetime.combine(day, dt.time(), dt.UTC)


@lru_cache(maxsize=20_000)
def _text(entry: Entry) -> str:
    """The folded lines of one event; kept by everything that stands in it.

    What people typed is escaped and folded by the library; the rest has fixed forms, and writing
    those through its event objects takes six times as long.
    """
    stamp = f"{entry.stamp.astimezone(dt.UTC):%Y%m%dT%H%M%SZ}"
    return "".join(
        (
            "BEGIN:VEVENT\r\n",
            _line("UID", vText(f"{entry.uid}@{DOMAIN}")),
            # Without a METHOD the stamp says when the event was last revised (RFC 5545, 3.8.7.2).
            f"DTSTAMP:{stamp}\r\n",
            f"LAST-MODIFIED:{stamp}\r\n",
            f"SEQUENCE:{entry.sequence}\r\n",
            f"DTSTART;VALUE=DATE:{entry.first:%Y%m%d}\r\n",
            f"DTEND;VALUE=DATE:{entry.last + ONE_DAY:%Y%m%d}\r\n",
            _line("SUMMARY", vText(entry.summary)),
            _line("DESCRIPTION", vText(entry.description)) if entry.description else "",
            _line("URL", vUri(entry.url)),
            f"STATUS:{'CANCELLED' if entry.off else 'CONFIRMED'}\r\n",
            "TRANSP:TRANSPARENT\r\n",
            "" if entry.alarm_hours is None or entry.off else _alarm(entry),
            "END:VEVENT\r\n",
        )
    )


def _alarm(entry: Entry) -> str:
    """So many hours before the day begins; some calendars leave alarms of others out."""
    return (
        "BEGIN:VALARM\r\nACTION:DISPLAY\r\n"
        f"TRIGGER:-PT{entry.alarm_hours}H\r\n"
        f"{_line('DESCRIPTION', vText(entry.summary))}END:VALARM\r\n"
    )


def _line(name: str, value: vText | vUri) -> str:
    return Contentline.from_parts(name, NO_PARAMETERS, value).to_ical().decode() + "\r\n"


@lru_cache(maxsize=200)
def _frame(name: str, uid: str, empty: bool) -> tuple[str, str]:
    """The lines before the events and the line after them."""
    frame = Calendar()
    frame.add("prodid", PRODUCT)
    frame.add("version", "2.0")
    frame.add("calscale", "GREGORIAN")
    frame.add("uid", uid)
    frame.add("name", name)
    frame.add("x-wr-calname", name)
    frame.add("refresh-interval", REFRESH, parameters={"VALUE": "DURATION"})
    if empty:
        frame.add_component(_utc())
    head, foot, _ = frame.to_ical().decode().rpartition("END:VCALENDAR")
    return head, foot + "\r\n"


def _utc() -> Timezone:
    """A calendar must hold at least one component (RFC 5545, 3.6); this one shows nothing."""
    standard = TimezoneStandard()
    standard.add("dtstart", dt.datetime(1970, 1, 1))  # noqa: DTZ001
    standard.add("tzoffsetfrom", dt.timedelta())
    standard.add("tzoffsetto", dt.timedelta())
    zone = Timezone()
    zone.add("tzid", "UTC")
    zone.add_component(standard)
    return zone
