"""Who may fetch the calendar, under which private address, and what does it hold?"""

import datetime as dt
import hashlib
import secrets

from django.db import transaction

from inventory import activity, clock, shopping
from inventory.household import when_access_ends
from inventory.ledger import said
from inventory.models import Activity, Household, Person
from inventory.refusals import Refusal
from planner import feed, harvest
from planner.models import FeedToken, Step

Content = FeedToken.Content
# A week: an alarm earlier than that is no reminder; a judgement, no source.
MOST_ALARM_HOURS = 168
WINDOW_DAYS_BACK, WINDOW_DAYS_AHEAD = 60, 400


@transaction.atomic
def make_token(
    *,
    person: Person,
    label: str,
    content: str,
    alarm_hours: int | None,
    by: Person | None,
) -> tuple[FeedToken, str]:
    """A new private address and its secret, which is told this once: only its digest is kept."""
    label = label.strip()
    if not label:
        raise Refusal("Say which calendar this is for, such as “my phone”.", field="label")
    if content not in Content.values:
        raise Refusal(f"{content!r} is nothing a calendar can show.", field="content")
    if alarm_hours is not None and not 0 <= alarm_hours <= MOST_ALARM_HOURS:
        raise Refusal(
            f"An alarm may come up to {MOST_ALARM_HOURS} hours before the day.",
            field="alarm_hours",
        )
    secret = secrets.token_urlsafe(32)
    token = FeedToken.objects.create(
        person=person,
        digest=digest_of(secret),
        label=label,
        content=content,
        alarm_hours=alarm_hours,
    )
    activity.record(
        by=by,
        verb="add",
        subject=token,
        summary=f"Made the calendar address “{token.label}” for {person}",
        undo="make calendar address",
        undo_data={"token": token.pk},
    )
    return token, secret


@activity.undoes("make calendar address")
def _undo_make_token(data: dict, by: Person | None) -> None:
    FeedToken.objects.filter(pk=data["token"]).delete()


@transaction.atomic
def revoke(*, token: FeedToken, by: Person | None) -> None:
    """Delete the address: whoever asks for it is told there is no such thing."""
    activity.record(
        by=by,
        verb="delete",
        subject=token,
        summary=f"Deleted the calendar address “{token.label}” of {token.person}",
    )
    token.delete()


@when_access_ends
def end_feeds(person: Person) -> None:
    """Delete a person's addresses when their role falls or their door is shut."""
    FeedToken.objects.filter(person=person).delete()


def find(secret: str) -> FeedToken | None:
    """The address with that secret, if its person may still sign in; one query.

    Notes the day it was last used, at most once a day.
    """
    today = clock.today()
    token = FeedToken.objects.filter(digest=digest_of(secret), person__is_active=True).first()
    if token and token.last_used != today:
        FeedToken.objects.filter(pk=token.pk).update(last_used=today)
    return token


def digest_of(secret: str) -> str:
    return hashlib.sha256(secret.encode()).hexdigest()


def etag(token: FeedToken, today: dt.date) -> str:
    return feed.etag(today=today, key=token.pk)


def body(*, token: FeedToken, house: Household, today: dt.date) -> bytes:
    """The calendar behind an address, the same bytes for the same rows and day."""
    return feed.calendar(
        name=f"{house}: {token.get_content_display()}",
        uid=f"{token.content}-{token.pk}@{feed.DOMAIN}",
        alarm_hours=token.alarm_hours,
        **CONTENTS[token.content](house, today),
    )


def _steps(house: Household, today: dt.date) -> dict:
    return {"steps": feed.shown(Step.objects.all(), today)}


def _windows(house: Household, today: dt.date) -> dict:
    """Of the plants the house keeps an item for; of all where it keeps none."""
    found = harvest.windows_between(
        house=house,
        start=today - dt.timedelta(days=WINDOW_DAYS_BACK),
        end=today + dt.timedelta(days=WINDOW_DAYS_AHEAD),
        on=today,
    )
    kept = [window for window in found if window.plant.item_id]
    return {"windows": kept or found, "stamp": _last_change(*WINDOW_TABLES)}


def _orders(house: Household, today: dt.date) -> dict:
    return {"orders": map(_order, shopping.shopping_lines(today=today)), "stamp": _last_change()}


def _order(line: shopping.ShoppingLine) -> feed.Order:
    late = " (overdue)" if line.overdue else ""
    wanted = "; ".join(sorted({hurt.label for hurt in line.for_what}))
    return feed.Order(
        key=f"{line.item.pk}-{line.arrive_day.isoformat()}",
        day=line.order_day,
        summary=f"Order {said(line.item, line.quantity)} of {line.item}{late}",
        description="\n".join(filter(None, (line.shop, wanted))),
        path=line.item.get_absolute_url(),
    )


# What moves a window.
WINDOW_TABLES = (
    "inventory.Household",
    "planner.Plant",
    "planner.Patch",
    "planner.Observation",
    "planner.Pick",
    "planner.WeatherFile",
    "planner.Normals",
)
CONTENTS = {Content.STEPS: _steps, Content.WINDOWS: _windows, Content.ORDERS: _orders}


def _last_change(*models: str) -> dt.datetime | None:
    """When something was last done to rows of these tables."""
    done = Activity.objects.filter(model__in=models) if models else Activity.objects
    return done.order_by("-id").values_list("at", flat=True).first()
