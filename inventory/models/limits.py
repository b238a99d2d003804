"""Which values the database itself refuses, so that no path can store an unreadable row."""

import datetime as dt

from django.db import models

FIRST_DAY = dt.date(1900, 1, 1)
LAST_DAY = dt.date(2199, 12, 31)
# 10**15 mg is a thousand tonnes: beyond any household, within a 64-bit column.
MOST = 10**15


def days_within(*fields: str) -> list[models.CheckConstraint]:
    """One check per day column: 1900 to 2199, or empty."""
    return [
        models.CheckConstraint(
            condition=models.Q(**{f"{field}__isnull": True})
            | models.Q(**{f"{field}__range": (FIRST_DAY, LAST_DAY)}),
            name=f"%(app_label)s_%(class)s_{field}_day",
            violation_error_message="A day must lie between 1900 and 2199.",
        )
        for field in fields
    ]


def amounts_within(*fields: str, least: int = 0) -> list[models.CheckConstraint]:
    """One check per quantity column: from `least` to a thousand tonnes, or empty."""
    return [
        models.CheckConstraint(
            condition=models.Q(**{f"{field}__isnull": True})
            | models.Q(**{f"{field}__range": (least, MOST)}),
            name=f"%(app_label)s_%(class)s_{field}_amount",
            violation_error_message="A quantity must be a sensible positive amount.",
        )
        for field in fields
    ]


class Versioned(models.Model):
    """A row that people edit: the version tells the second editor that the first was there."""

    version = models.PositiveIntegerField(default=1, editable=False)

    class Meta:
        abstract = True
