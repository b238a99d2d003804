"""Filled bottles: what is in them, as it was on the day they were filled, and where they lie."""

import uuid

from django.conf import settings
from django.db import models
from django.urls import reverse

from inventory.models.items import Item, StoragePlace
from inventory.models.limits import Versioned, amounts_within, days_within


class CellarLot(Versioned):
    """Bottles of one kind that were filled together; what it says of them never changes.

    Carbon dioxide, sulphite and sugar are in mg/L, strength in thousandths of % vol; none is not known.
    `parts` says how often each closure and cage had been used before: {"cage": [[uses, count], ...]}.
    """

    mark = models.CharField(max_length=20, unique=True)
    name = models.CharField(max_length=80)
    origin = models.CharField(max_length=40, db_index=True)
    link = models.CharField(max_length=200, blank=True)
    bottled = models.DateField()

    item = models.ForeignKey(Item, models.PROTECT, related_name="cellar_lots")
    closure = models.ForeignKey(Item, models.PROTECT, null=True, blank=True, related_name="+")
    cage = models.ForeignKey(Item, models.PROTECT, null=True, blank=True, related_name="+")
    fill = models.BigIntegerField("in each bottle")
    filled = models.PositiveIntegerField("bottles filled")
    parts = models.JSONField(default=dict)

    is_fizzy = models.BooleanField(default=False)
    co2 = models.PositiveIntegerField(null=True, blank=True)
    strength = models.PositiveIntegerField(null=True, blank=True)
    strength_rule = models.CharField(max_length=160, blank=True)
    sugar = models.PositiveIntegerField(null=True, blank=True)
    sulphite = models.PositiveIntegerField(null=True, blank=True)
    contains = models.CharField(max_length=400, blank=True)
    warnings = models.JSONField(default=list)

    test_on = models.DateField(null=True, blank=True)
    ready = models.DateField(null=True, blank=True)
    drink_by = models.DateField(null=True, blank=True)
    flagged = models.CharField("why to beware of it", max_length=200, blank=True)

    class Meta:
        ordering = ["bottled", "id"]
        constraints = [
            *days_within("bottled", "test_on", "ready", "drink_by"),
            *amounts_within("fill", least=1),
            models.CheckConstraint(
                condition=models.Q(filled__range=(1, 100_000)), name="inventory_cellarlot_filled"
            ),
            models.CheckConstraint(
                condition=models.Q(co2__isnull=True) | models.Q(co2__lte=40_000),
                name="inventory_cellarlot_co2",
            ),
        ]

    def __str__(self):
        return f"{self.name}, {self.item}"

    def get_absolute_url(self):
        return reverse("planner:cellar-lot", args=[self.pk])


class Fate(models.TextChoices):
    LAID = "laid", "laid down"
    MOVED = "moved", "moved"
    OPENED = "opened", "opened"
    TESTED = "tested", "opened as a test"
    GIVEN = "given", "given away"
    BURST = "burst", "burst"
    BROKEN = "broken", "broken"
    DECANTED = "decanted", "poured into another bottle"


class CellarLine(models.Model):
    """One signed line about bottles of a lot at a place; never changed, taken back by another."""

    lot = models.ForeignKey(CellarLot, models.PROTECT, related_name="lines")
    place = models.ForeignKey(StoragePlace, models.PROTECT, null=True, blank=True)
    fate = models.CharField(max_length=8, choices=Fate)
    change = models.IntegerField()
    day = models.DateField()
    note = models.CharField(max_length=200, blank=True)
    act = models.UUIDField(default=uuid.uuid4, editable=False, db_index=True)

    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, null=True)
    recorded_at = models.DateTimeField(auto_now_add=True)
    undoes = models.OneToOneField("self", models.PROTECT, null=True, blank=True)

    class Meta:
        ordering = ["id"]
        constraints = [
            *days_within("day"),
            models.CheckConstraint(
                condition=models.Q(change__range=(-100_000, 100_000)) & ~models.Q(change=0),
                name="inventory_cellarline_change",
            ),
        ]

    def __str__(self):
        return f"{self.change:+} {self.lot} {self.get_fate_display()}"

    def get_absolute_url(self):
        return self.lot.get_absolute_url()
