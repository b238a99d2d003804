"""The weather files that somebody brought, their days, and the usual months of a place."""

from django.conf import settings
from django.core.validators import MinLengthValidator
from django.db import models
from django.urls import reverse

from inventory.models.limits import days_within


class ReadAt(models.TextChoices):
    """From when to when the service counts a day."""

    MIDNIGHT = "midnight", "from midnight to midnight, as it stands"
    NINE = "nine", "at nine in the morning: its highest belongs to the day before"


class WeatherFile(models.Model):
    """One file, first only looked at; its days count once it is taken in, the newest file first."""

    class State(models.TextChoices):
        LOOKED_AT = "looked_at", "looked at"
        TAKEN_IN = "taken_in", "taken in"
        TAKEN_BACK = "taken_back", "taken back"

    name = models.CharField(max_length=120)
    kind = models.CharField(max_length=60)
    height_m = models.SmallIntegerField(null=True, blank=True)
    read_at = models.CharField(max_length=8, choices=ReadAt, default=ReadAt.MIDNIGHT)
    oddities = models.TextField(blank=True)

    first = models.DateField()
    last = models.DateField()
    missing = models.PositiveIntegerField()
    state = models.CharField(max_length=10, choices=State, default=State.LOOKED_AT)

    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, null=True)
    recorded_at = models.DateTimeField(auto_now_add=True)

    class Meta:
        ordering = ["-id"]
        constraints = [*days_within("first", "last")]

    def __str__(self):
        return self.name

    def get_absolute_url(self):
        return reverse("planner:weather-file", args=[self.pk])


class WeatherDay(models.Model):
    """The lowest and the highest of a day, in hundredths of a degree Celsius."""

    file = models.ForeignKey(WeatherFile, models.CASCADE, related_name="days")
    day = models.DateField()
    low = models.SmallIntegerField(null=True)
    high = models.SmallIntegerField(null=True)

    class Meta:
        ordering = ["day"]
        constraints = [
            *days_within("day"),
            models.UniqueConstraint(fields=["file", "day"], name="planner_weather_day_once"),
            models.CheckConstraint(
                condition=models.Q(low__isnull=True)
                | models.Q(high__isnull=True)
                | models.Q(low__lte=models.F("high")),
                name="planner_weather_day_order",
            ),
        ]

    def __str__(self):
        return f"{self.day}: {self.low} to {self.high}"


class Normals(models.Model):
    """The usual lowest and highest of each month, hundredths of a degree, January first."""

    name = models.CharField(max_length=120, validators=[MinLengthValidator(1)])
    height_m = models.SmallIntegerField(null=True, blank=True)
    lows = models.JSONField()
    highs = models.JSONField()

    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, null=True)
    recorded_at = models.DateTimeField(auto_now_add=True)
    taken_back = models.BooleanField(default=False)

    class Meta:
        ordering = ["-id"]
        verbose_name_plural = "normals"

    def __str__(self):
        return self.name

    def get_absolute_url(self):
        return reverse("planner:weather")
