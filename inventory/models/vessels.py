"""What must and wine stand in."""

from django.db import models
from django.urls import reverse

from inventory.models.limits import Versioned, amounts_within, days_within


class VesselKind(models.TextChoices):
    OPEN = "open", "open or lidded, for the mash"
    CLOSED = "closed", "closed under an airlock"


class Vessel(Versioned):
    """A bucket, jar or cask, by what it holds to the brim."""

    name = models.CharField(max_length=60, unique=True)
    kind = models.CharField(max_length=10, choices=VesselKind)
    brimful = models.BigIntegerField("brimful volume")
    mouth = models.CharField("mouth, and what fits it", max_length=60, blank=True)
    marks = models.CharField("marks on it", max_length=80, blank=True)
    airlock = models.BooleanField("takes an airlock", default=False)
    blow_off = models.BooleanField("takes a hose for the foam", default=False)
    note = models.CharField(max_length=160, blank=True)
    to_wash = models.BooleanField("to be washed", default=False)
    lent_to = models.CharField(max_length=80, blank=True)
    back_by = models.DateField("wanted back on", null=True, blank=True)
    archived = models.BooleanField(default=False)

    class Meta:
        ordering = ["kind", "-brimful", "name"]
        constraints = [*amounts_within("brimful", least=1), *days_within("back_by")]

    def __str__(self):
        return self.name

    def get_absolute_url(self):
        return reverse("inventory:vessel-list")

    @property
    def word(self) -> str:
        """How it stands, the gravest first."""
        if self.archived:
            return "put away"
        if self.lent_to:
            return "away"
        return "to be washed" if self.to_wash else "kept ready"
