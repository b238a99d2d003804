"""Which day is it in this house?"""

import datetime as dt

from django.conf import settings
from django.utils import timezone

NOON = dt.time(12)


def today() -> dt.date:
    """The day in the house's time zone, or the day the demo pretends."""
    return settings.PRETEND_TODAY or timezone.localdate()


def noon(day: dt.date) -> dt.datetime:
    """Noon in the house's time: the moment of what was written down with its day alone."""
    return dt.datetime.combine(day, NOON, tzinfo=timezone.get_current_timezone())


def moment(day: dt.date) -> dt.datetime:
    """Now if that is today, else noon of it."""
    now = timezone.localtime()
    return now if day == now.date() else noon(day)
