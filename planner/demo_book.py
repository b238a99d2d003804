"""The readings of the demo house: every batch that was pitched, up to the day."""

import datetime as dt
from zoneinfo import ZoneInfo

from inventory.models import Person
from planner import readings
from planner.models import Batch

NOON = dt.time(12)


def read(scene: dict, *, today: dt.date, by: Person) -> None:
    """Write down the gravities of the scene, so many days after the start of each batch."""
    zone = ZoneInfo(scene["house"]["time_zone"])
    for batch in Batch.objects.filter(start__lt=today).order_by("start", "pk"):
        for row in scene["readings"]:
            day = batch.start + dt.timedelta(days=row["day"])
            if day <= today:
                readings.record(
                    batch=batch,
                    kind="gravity",
                    value=row["gravity"],
                    temperature_c=row["at_c"],
                    reference_c=20,
                    at=dt.datetime.combine(day, NOON, tzinfo=zone),
                    by=by,
                )
