"""Where things grow, what stage they were seen at, and what was picked there."""

from django.conf import settings
from django.db import models
from django.urls import reverse

from inventory.models import Lot
from inventory.models.limits import Versioned, amounts_within, days_within
from planner.models.plants import Plant

# 100 kg: more than a household carries from a hedge in a day; a guard against slips, no source.
MOST_PICKED = 100_000_000


class Leave(models.TextChoices):
    """What the owner of the land says."""

    OWN = "own", "our own ground"
    GIVEN = "given", "leave given"
    ASKED = "asked", "asked, no answer yet"
    COMMON = "common", "common land, by local custom"
    NOT_KNOWN = "not_known", "not known"


class Stage(models.TextChoices):
    CUE = "cue", "its cue was seen"
    NOT_YET = "not_yet", "not yet"
    SHOWING = "showing", "showing"
    OPEN = "open", "open"
    GOING_OVER = "going_over", "going over"
    OVER = "over", "over"


class Patch(Versioned):
    """A place where something grows that the house picks; its whereabouts stay in the house."""

    name = models.CharField(max_length=60, unique=True)
    plants = models.ManyToManyField(Plant, related_name="patches", blank=True)
    whereabouts = models.CharField(max_length=200, blank=True)
    height_m = models.SmallIntegerField(null=True, blank=True)
    later_days = models.SmallIntegerField("opens so many days later than the house", default=0)
    leave = models.CharField("owner's leave", max_length=10, choices=Leave, default=Leave.NOT_KNOWN)
    protected = models.BooleanField("protected place", default=False)
    cap = models.BigIntegerField("fair share in a season", null=True, blank=True)
    notes = models.TextField(blank=True)
    archived = models.BooleanField(default=False)

    class Meta:
        ordering = ["name"]
        verbose_name_plural = "patches"
        constraints = [
            *amounts_within("cap", least=1),
            models.CheckConstraint(
                condition=models.Q(later_days__range=(-60, 60)), name="planner_patch_later_days"
            ),
        ]

    def __str__(self):
        return self.name

    def get_absolute_url(self):
        return reverse("planner:patch-detail", args=[self.pk])


class Observation(models.Model):
    """A stage of a plant seen on a day; `looked_before` tells that it was not so the day before."""

    plant = models.ForeignKey(Plant, models.PROTECT, related_name="observations")
    patch = models.ForeignKey(
        Patch, models.PROTECT, null=True, blank=True, related_name="observations"
    )
    stage = models.CharField(max_length=10, choices=Stage)
    day = models.DateField()
    looked_before = models.BooleanField(default=False)
    note = models.CharField(max_length=200, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, null=True)
    recorded_at = models.DateTimeField(auto_now_add=True)
    taken_back = models.BooleanField(default=False)

    class Meta:
        ordering = ["-day", "-id"]
        constraints = [*days_within("day")]

    def __str__(self):
        return f"{self.plant}: {self.get_stage_display()}"

    def get_absolute_url(self):
        return self.plant.get_absolute_url()


class Pick(models.Model):
    """One gathering of one plant; net is what was weighed, sorted what was fit to use."""

    plant = models.ForeignKey(Plant, models.PROTECT, related_name="picks")
    patch = models.ForeignKey(Patch, models.PROTECT, null=True, blank=True, related_name="picks")
    mark = models.CharField(max_length=20, unique=True)
    day = models.DateField()
    at = models.DateTimeField("picked at", null=True, blank=True)
    net = models.BigIntegerField()
    sorted_out = models.BigIntegerField("left after sorting", null=True, blank=True)
    confirmed = models.CharField("features seen", max_length=200, blank=True)
    over_cap = models.CharField("why more than the fair share", max_length=200, blank=True)
    note = models.CharField(max_length=200, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, null=True)
    recorded_at = models.DateTimeField(auto_now_add=True)
    taken_back = models.BooleanField(default=False)

    class Meta:
        ordering = ["-day", "-id"]
        constraints = [
            *days_within("day"),
            models.CheckConstraint(
                condition=models.Q(net__range=(1, MOST_PICKED)), name="planner_pick_net"
            ),
            models.CheckConstraint(
                condition=models.Q(sorted_out__isnull=True)
                | models.Q(sorted_out__range=(0, MOST_PICKED))
                & models.Q(sorted_out__lte=models.F("net")),
                name="planner_pick_sorted",
                violation_error_message="Sorting never makes more of it.",
            ),
        ]

    def __str__(self):
        return f"{self.mark} {self.plant}"

    def get_absolute_url(self):
        return reverse("planner:pick-detail", args=[self.pk])

    @property
    def usable(self) -> int:
        return self.net if self.sorted_out is None else self.sorted_out


class Weighing(models.Model):
    """One tub of a pick: gross with the tub, tare of the tub alone."""

    pick = models.ForeignKey(Pick, models.PROTECT, related_name="weighings")
    gross = models.BigIntegerField()
    tare = models.BigIntegerField()

    class Meta:
        ordering = ["id"]
        constraints = [
            *amounts_within("gross", least=1),
            *amounts_within("tare"),
            models.CheckConstraint(
                condition=models.Q(gross__gt=models.F("tare")), name="planner_weighing_tare"
            ),
        ]

    def __str__(self):
        return f"{self.gross} less {self.tare}"


class Share(models.Model):
    """What of a pick became which lot."""

    pick = models.ForeignKey(Pick, models.PROTECT, related_name="shares")
    lot = models.OneToOneField(Lot, models.PROTECT, related_name="pick_share")
    amount = models.BigIntegerField()
    meant_for = models.CharField(max_length=80, blank=True)
    until = models.DateTimeField("keeps until", null=True, blank=True)
    taken_back = models.BooleanField(default=False)

    class Meta:
        ordering = ["id"]
        constraints = [*amounts_within("amount", least=1)]

    def __str__(self):
        return f"{self.pick}: {self.lot}"
