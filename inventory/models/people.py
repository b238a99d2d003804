"""Who lives here, how they like their figures, and what was done by whom."""

from django.conf import settings
from django.contrib.auth.models import AbstractUser
from django.db import models
from django.urls import reverse

from inventory.models.limits import Versioned


class Units(models.TextChoices):
    METRIC = "metric", "metric (g, kg, mL, L)"
    IMPERIAL = "imperial", "imperial (oz, lb, imperial pints and gallons)"
    US = "us", "US (oz, lb, US pints and gallons)"


class Theme(models.TextChoices):
    SYSTEM = "system", "as the device"
    LIGHT = "light", "light"
    DARK = "dark", "dark"


class Person(AbstractUser):
    """Somebody who signs in; the group (keeper, maker, picker, guest) says what they may do."""

    units = models.CharField(max_length=10, choices=Units, default=Units.METRIC)
    theme = models.CharField(max_length=10, choices=Theme, default=Theme.SYSTEM)

    def __str__(self):
        return self.get_full_name() or self.username


class Household(Versioned):
    """The one house of this installation: its name, clock, place and country."""

    name = models.CharField(max_length=80)
    time_zone = models.CharField(max_length=64, default="UTC")
    country = models.CharField(max_length=2, default="GB")
    latitude_thousandths = models.IntegerField(default=54_000)
    height_m = models.IntegerField(default=100)
    units = models.CharField(max_length=10, choices=Units, default=Units.METRIC)
    living_page = models.BooleanField(default=False)
    drunk_a_month = models.PositiveSmallIntegerField("bottles drunk a month", default=0)

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=models.Q(drunk_a_month__lte=500), name="inventory_household_drunk"
            ),
            models.CheckConstraint(condition=models.Q(pk=1), name="inventory_household_only_one"),
            models.CheckConstraint(
                condition=models.Q(latitude_thousandths__range=(-90_000, 90_000)),
                name="inventory_household_latitude",
                violation_error_message="A latitude lies between -90 and 90 degrees.",
            ),
            models.CheckConstraint(
                condition=models.Q(height_m__range=(-450, 5_000)),
                name="inventory_household_height",
                violation_error_message="A height lies between -450 and 5000 metres.",
            ),
        ]

    def __str__(self):
        return self.name

    @property
    def latitude(self) -> float:
        return self.latitude_thousandths / 1000


class Activity(models.Model):
    """One thing somebody did, in words, with what undoes it."""

    at = models.DateTimeField(auto_now_add=True, db_index=True)
    by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, related_name="activities"
    )
    verb = models.CharField(max_length=40)
    model = models.CharField(max_length=60)
    object_id = models.BigIntegerField(null=True)
    summary = models.CharField(max_length=400)
    link = models.CharField(max_length=200, blank=True)

    undo = models.CharField(max_length=60, blank=True)
    undo_data = models.JSONField(default=dict)
    undone_by = models.OneToOneField("self", models.PROTECT, null=True, related_name="undoes")

    class Meta:
        ordering = ["-id"]
        verbose_name_plural = "activities"
        indexes = [models.Index(fields=["model", "object_id"])]

    def __str__(self):
        return self.summary

    def get_absolute_url(self):
        return self.link or reverse("inventory:activity-list")

    @property
    def can_undo(self) -> bool:
        return bool(self.undo) and self.undone_by_id is None


class SentForm(models.Model):
    """A form's token: the same form sent twice counts once."""

    token = models.CharField(max_length=64, unique=True)
    at = models.DateTimeField(auto_now_add=True)
    address = models.CharField(max_length=400, blank=True)

    def __str__(self):
        return self.token
