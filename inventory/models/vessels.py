"""What must and wine stand in."""

from django.db import models
from django.urls import reverse

from inventory.models.limits import Versioned, amounts_within


class VesselKind(models.TextChoices):
    OPEN = "open", "open or lidded, for the mash"
    CLOSED = "closed", "closed under an airlock"


class Vessel(Versioned):
    """A bucket, jar or cask, by what it holds to the brim."""

    name = models.CharField(max_length=60, unique=True)
    kind = models.CharField(max_length=10, choices=VesselKind)
    brimful = models.BigIntegerField("brimful volume")
    note = models.CharField(max_length=160, blank=True)
    archived = models.BooleanField(default=False)

    class Meta:
        ordering = ["kind", "-brimful", "name"]
        constraints = [*amounts_within("brimful", least=1)]

    def __str__(self):
        return self.name

    def get_absolute_url(self):
        return reverse("inventory:vessel-list")
