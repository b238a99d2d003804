"""One fermentation from must to bottle: its dated steps, needs and vessels."""

import uuid

from django.conf import settings
from django.db import models
from django.urls import reverse

from inventory.models import Requirement, Vessel
from inventory.models.limits import Versioned, amounts_within, days_within
from planner.models.recipes import RecipeVersion, StepTemplate, Weekend


class BatchQuerySet(models.QuerySet):
    def with_next_step(self):
        """Title and day of the first step still to do, as `next_title` and `next_day`."""
        waiting = Step.objects.filter(batch=models.OuterRef("pk"), state=Step.State.TO_DO)
        first = waiting.order_by("day", "place")
        return self.annotate(
            next_title=models.Subquery(first.values("title")[:1]),
            next_day=models.Subquery(first.values("day")[:1]),
        )


class Batch(Versioned):
    """A planned or made batch of one recipe version."""

    class State(models.TextChoices):
        THOUGHT_OF = "thought_of", "thought of"
        SET_DOWN = "set_down", "set down"
        MUST_MADE = "must_made", "must made"
        WORKING = "working", "working"
        QUIET = "quiet", "quiet"
        BRIGHT = "bright", "fallen bright"
        STEADIED = "steadied", "steadied"
        IN_GLASS = "in_glass", "in glass"
        RESTING = "resting", "resting"
        FIT = "fit", "fit to drink"
        DRUNK_UP = "drunk_up", "drunk up"
        POURED_AWAY = "poured_away", "poured away"
        DROPPED = "dropped", "dropped"
        JOINED = "joined", "poured into another"

    name = models.CharField(max_length=80, unique=True)
    recipe_version = models.ForeignKey(RecipeVersion, models.PROTECT, related_name="batches")
    volume = models.BigIntegerField()
    start = models.DateField()
    state = models.CharField(max_length=12, choices=State, default=State.SET_DOWN)
    notes = models.TextField(blank=True)
    planned_by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, null=True)
    dropped = models.DateField(null=True, blank=True)
    parent = models.ForeignKey(
        "self", models.PROTECT, null=True, blank=True, related_name="parted_off"
    )

    objects = BatchQuerySet.as_manager()

    class Meta:
        ordering = ["start", "name"]
        verbose_name_plural = "batches"
        constraints = [*days_within("start", "dropped"), *amounts_within("volume", least=1)]

    def __str__(self):
        return self.name

    def get_absolute_url(self):
        return reverse("planner:batch-detail", args=[self.pk])

    @property
    def origin(self) -> str:
        """The key under which its requirements stand in the store."""
        return f"batch:{self.pk}"


class Step(Versioned):
    """One dated thing to do for a batch; also one event in the feed."""

    class State(models.TextChoices):
        TO_DO = "to_do", "to do"
        DONE = "done", "done"
        SKIPPED = "skipped", "skipped"
        CANCELLED = "cancelled", "cancelled"

    batch = models.ForeignKey(Batch, models.PROTECT, related_name="steps")
    template = models.ForeignKey(StepTemplate, models.PROTECT, null=True, blank=True)
    place = models.PositiveSmallIntegerField()
    title = models.CharField(max_length=80)
    notes = models.TextField(blank=True)
    weekend = models.CharField(max_length=10, choices=Weekend, default=Weekend.ANY)

    nominal = models.DateField()
    day = models.DateField(db_index=True)
    pinned = models.BooleanField(default=False)
    state = models.CharField(max_length=10, choices=State, default=State.TO_DO)
    done_on = models.DateField(null=True, blank=True)
    done_by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, null=True)
    remark = models.CharField(max_length=400, blank=True)

    uid = models.UUIDField(default=uuid.uuid4, unique=True, editable=False)
    sequence = models.PositiveIntegerField(default=0, editable=False)
    changed_at = models.DateTimeField()

    class Meta:
        ordering = ["batch", "place"]
        constraints = [
            *days_within("nominal", "day", "done_on"),
            models.UniqueConstraint(fields=["batch", "place"], name="planner_step_once"),
        ]

    def __str__(self):
        return f"{self.batch}: {self.title}"

    def get_absolute_url(self):
        return f"{reverse('planner:batch-detail', args=[self.batch_id])}#step-{self.pk}"

    @property
    def is_open(self) -> bool:
        return self.state == self.State.TO_DO


class StepNeed(models.Model):
    """Ties a step to the dated requirement it makes in the store."""

    step = models.ForeignKey(Step, models.PROTECT, related_name="needs")
    requirement = models.OneToOneField(Requirement, models.PROTECT, related_name="step_need")

    def __str__(self):
        return f"{self.step}: {self.requirement}"


class Occupancy(models.Model):
    """A vessel in use by a batch from one step to another; the last day is free again."""

    vessel = models.ForeignKey(Vessel, models.PROTECT, related_name="occupancies")
    batch = models.ForeignKey(Batch, models.CASCADE, related_name="occupancies")
    first_step = models.ForeignKey(Step, models.PROTECT, related_name="+")
    last_step = models.ForeignKey(Step, models.PROTECT, null=True, related_name="+")
    begins = models.DateField()
    ends = models.DateField()

    class Meta:
        ordering = ["begins", "id"]
        verbose_name_plural = "occupancies"
        constraints = [
            *days_within("begins", "ends"),
            models.CheckConstraint(
                condition=models.Q(ends__gt=models.F("begins")), name="planner_occupancy_order"
            ),
        ]

    def __str__(self):
        return f"{self.vessel}: {self.batch}"
