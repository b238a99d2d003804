"""The day a batch went into glass, and how it tasted afterwards."""

import uuid

from django.conf import settings
from django.db import models

from inventory.models import CellarLot, StoragePlace
from inventory.models.limits import amounts_within, days_within
from planner.models.batches import Batch, Step


class Bottling(models.Model):
    """One filling of bottles from a batch; volumes in microlitres, sugar in mg, target in 1/1000 volumes."""

    batch = models.ForeignKey(Batch, models.PROTECT, related_name="bottlings")
    step = models.ForeignKey(Step, models.PROTECT, null=True, blank=True, related_name="+")
    place = models.ForeignKey(StoragePlace, models.PROTECT, null=True, blank=True, related_name="+")
    day = models.DateField()
    volume = models.BigIntegerField("there before")
    filled = models.BigIntegerField("in the bottles")
    broken = models.PositiveIntegerField("bottles broken on the day", default=0)
    planned = models.PositiveIntegerField("bottles planned", null=True, blank=True)

    is_fizzy = models.BooleanField(default=False)
    target = models.PositiveIntegerField(null=True, blank=True)
    warmest = models.IntegerField(
        "warmest since it was quiet, 1/1000 degree C", null=True, blank=True
    )
    sugar = models.BigIntegerField("priming sugar", null=True, blank=True)
    reason = models.CharField("why all the same", max_length=400, blank=True)

    act = models.UUIDField(default=uuid.uuid4, editable=False, unique=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, null=True)
    recorded_at = models.DateTimeField(auto_now_add=True)
    taken_back = models.BooleanField(default=False)

    class Meta:
        ordering = ["day", "id"]
        constraints = [*days_within("day"), *amounts_within("volume", "filled")]

    def __str__(self):
        return f"{self.batch}, filled {self.day.day} {self.day:%b %Y}"

    def get_absolute_url(self):
        return f"{self.batch.get_absolute_url()}#bottles"


class Liking(models.IntegerChoices):
    POOR = 1, "poor"
    FAIR = 2, "fair"
    GOOD = 3, "good"
    FINE = 4, "very good"
    BEST = 5, "the best yet"


class Tasting(models.Model):
    """How a bottle was: liked, in words, which wishes came true, and whether to make it again."""

    batch = models.ForeignKey(Batch, models.PROTECT, related_name="tastings")
    lot = models.ForeignKey(CellarLot, models.PROTECT, null=True, blank=True, related_name="+")
    day = models.DateField()
    liking = models.PositiveSmallIntegerField("how it was", choices=Liking)
    words = models.TextField(blank=True)
    wishes = models.JSONField(default=dict)
    again = models.BooleanField("would make it again", null=True)
    lesson = models.CharField("to do better next time", max_length=400, blank=True)

    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, null=True)
    recorded_at = models.DateTimeField(auto_now_add=True)
    taken_back = models.BooleanField(default=False)

    class Meta:
        ordering = ["-day", "-id"]
        constraints = [
            *days_within("day"),
            models.CheckConstraint(
                condition=models.Q(liking__range=(1, 5)), name="planner_tasting_liking"
            ),
        ]

    def __str__(self):
        return f"{self.batch}: {self.get_liking_display()}"

    def get_absolute_url(self):
        return f"{self.batch.get_absolute_url()}#tastings"
