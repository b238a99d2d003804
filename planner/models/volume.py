"""How much of a batch there is: one signed line for each thing that made it more or less."""

import uuid

from django.conf import settings
from django.db import models

from inventory.models.limits import MOST, days_within
from planner.models.batches import Batch, Step


class Cause(models.TextChoices):
    MADE = "made", "must made"
    ADDED = "added", "what was stirred in"
    TOPPED = "topped", "topped up"
    MEASURED = "measured", "measured anew"
    SAMPLE = "sample", "taken as a sample"
    CAKE = "cake", "left in the fruit"
    LEES = "lees", "left on the lees"
    HOSE = "hose", "left in hose and vessel"
    AIR = "air", "gone into the air"
    SPILT = "spilt", "spilt"
    PARTED = "parted", "parted into another batch"
    POURED_IN = "poured_in", "poured together"
    GLASS = "glass", "into glass"
    AWAY = "away", "poured away"


LOSSES = (Cause.SAMPLE, Cause.CAKE, Cause.LEES, Cause.HOSE, Cause.AIR, Cause.SPILT, Cause.AWAY)
GAINS = (Cause.MADE, Cause.ADDED, Cause.TOPPED)
BETWEEN = (Cause.PARTED, Cause.POURED_IN)


class Transfer(models.Model):
    """One signed line in microlitres; never changed, taken back by its opposite.

    What goes from one batch to another is two lines of one act, each naming the other batch.
    """

    batch = models.ForeignKey(Batch, models.PROTECT, related_name="transfers")
    cause = models.CharField(max_length=10, choices=Cause)
    change = models.BigIntegerField()
    day = models.DateField()
    other = models.ForeignKey(Batch, models.PROTECT, null=True, blank=True, related_name="+")
    step = models.ForeignKey(Step, models.PROTECT, null=True, blank=True, related_name="transfers")
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
                condition=models.Q(change__range=(-MOST, MOST)) & ~models.Q(change=0),
                name="planner_transfer_change",
                violation_error_message="A line moves something, within a sensible amount.",
            ),
            models.CheckConstraint(
                condition=models.Q(undoes__isnull=False)
                | ~models.Q(cause__in=LOSSES + (Cause.GLASS,))
                | models.Q(change__lt=0),
                name="planner_transfer_loss",
            ),
            models.CheckConstraint(
                condition=models.Q(undoes__isnull=False)
                | ~models.Q(cause__in=GAINS)
                | models.Q(change__gt=0),
                name="planner_transfer_gain",
            ),
        ]

    def __str__(self):
        return f"{self.change:+} µL of {self.batch}"

    def get_absolute_url(self):
        return f"{self.batch.get_absolute_url()}#volume"


class Override(models.Model):
    """A gate that said "look again", and who went on all the same, why and when."""

    step = models.ForeignKey(Step, models.PROTECT, related_name="overrides")
    gate = models.CharField(max_length=40)
    words = models.CharField(max_length=400)
    reason = models.CharField(max_length=400)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, null=True)
    at = models.DateTimeField(auto_now_add=True)
    taken_back = models.BooleanField(default=False)

    class Meta:
        ordering = ["id"]

    def __str__(self):
        return f"{self.gate}: {self.reason}"

    def get_absolute_url(self):
        return self.step.get_absolute_url()
