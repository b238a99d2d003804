"""Which steps fall in the coming months?"""

import datetime as dt
from itertools import groupby

from planner.models import Step

DAYS_BACK, DAYS_AHEAD = 14, 400


def months(*, today: dt.date) -> list[tuple[dt.date, list[Step]]]:
    """Steps to do and lately done, by month and day; one query."""
    steps = (
        Step.objects.exclude(state=Step.State.CANCELLED)
        .filter(day__range=(today - dt.timedelta(DAYS_BACK), today + dt.timedelta(DAYS_AHEAD)))
        .select_related("batch")
        .order_by("day", "batch__name", "place")
    )
    return [
        (month, list(found)) for month, found in groupby(steps, key=lambda s: s.day.replace(day=1))
    ]
