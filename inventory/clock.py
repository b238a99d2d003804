"""Which day is it in this house?"""

import datetime as dt

from django.conf import settings
from django.utils import timezone


def today() -> dt.date:
    """The day in the house's time zone, or the day the demo pretends."""
    return settings.PRETEND_TODAY or timezone.localdate()
