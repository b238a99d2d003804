"""When is nobody of the house there to pick?"""

import datetime as dt

from django.db import transaction

from inventory import activity
from inventory.models import Person
from inventory.refusals import Refusal
from inventory.shown import day_text
from inventory.values import check_columns, check_day, check_text
from planner.models import BusySpell

# A year away is no spell; a guard against slips.
MOST_DAYS = 366


@transaction.atomic
def add(*, what: str, first: dt.date, last: dt.date, by: Person | None) -> BusySpell:
    """Note days on which nobody can go, both ends included; atomic, can be undone."""
    check_text(what, field="what", says="Say what it is, for example away.")
    check_day(first, field="first")
    check_day(last, field="last")
    if last < first:
        raise Refusal("The last day comes before the first.", field="last")
    if (last - first).days >= MOST_DAYS:
        raise Refusal("That is longer than a year.", field="last")
    row = BusySpell(what=what, first=first, last=last, by=by)
    check_columns(row, ["what"])
    row.save(force_insert=True)
    activity.record(
        by=by,
        verb="busy",
        subject=row,
        summary=f"Busy {day_text(first)} to {day_text(last)}: {what}",
        undo="busy.add",
        undo_data={"spell": row.pk},
    )
    return row


@transaction.atomic
def remove(*, spell: BusySpell, by: Person | None) -> None:
    """The house has those days after all; atomic, can be undone."""
    if not BusySpell.objects.filter(pk=spell.pk, taken_back=False).update(taken_back=True):
        raise Refusal("It has been taken out already.")
    activity.record(
        by=by,
        verb="not busy",
        subject=spell,
        summary=f"Not busy after all: {spell}",
        undo="busy.remove",
        undo_data={"spell": spell.pk},
    )


@activity.undoes("busy.add")
def _undo_add(data: dict, by: Person | None) -> None:
    if not BusySpell.objects.filter(pk=data["spell"], taken_back=False).update(taken_back=True):
        raise Refusal("It has been taken out already.")


@activity.undoes("busy.remove")
def _undo_remove(data: dict, by: Person | None) -> None:
    if not BusySpell.objects.filter(pk=data["spell"], taken_back=True).update(taken_back=False):
        raise Refusal("It is there again already.")


def spells(*, since: dt.date | None = None) -> list[tuple[dt.date, dt.date]]:
    """First and last day of each spell that is not over by a day; one query."""
    rows = BusySpell.objects.filter(taken_back=False)
    if since is not None:
        rows = rows.filter(last__gte=since)
    return list(rows.values_list("first", "last"))
