"""What was read off a batch and what was added to it; never erased, struck through when wrong."""

from django.conf import settings
from django.db import models

from inventory.models import Item, Movement
from inventory.models.limits import amounts_within, days_within
from planner.models.batches import Batch, Step
from planner.models.composition import AcidBasis


class ReadingKind(models.TextChoices):
    """What is read; the value is stored in whole parts, so many to one of the unit shown."""

    GRAVITY = "gravity", "gravity"
    TEMPERATURE = "temperature", "temperature"
    PH = "ph", "pH"
    ACID = "acid", "titratable acid"
    FREE_SO2 = "free_so2", "free SO2"
    TOTAL_SO2 = "total_so2", "total SO2"
    TASTE = "taste", "taste"
    CLARITY = "clarity", "clarity"

    @property
    def size(self) -> int:
        """Whole parts to one: of SG, of a degree C, of pH, of g/L, of mg/L."""
        return 100_000 if self == ReadingKind.GRAVITY else 1000

    @property
    def unit(self) -> str:
        units = {"gravity": "SG", "temperature": "degC", "ph": "pH", "acid": "g/L"}
        units |= {"taste": "", "clarity": ""}
        return units.get(self.value, "mg/L")


class Reading(models.Model):
    """One reading at a moment; gravity raw, with the sample's and the instrument's temperature."""

    batch = models.ForeignKey(Batch, models.PROTECT, related_name="readings")
    kind = models.CharField(max_length=12, choices=ReadingKind)
    value = models.BigIntegerField()
    temperature = models.IntegerField("sample, thousandths of a degree C", null=True, blank=True)
    reference = models.IntegerField("instrument, thousandths of a degree C", null=True, blank=True)
    acid_as = models.CharField(max_length=10, choices=AcidBasis, blank=True)
    note = models.CharField(max_length=200, blank=True)

    at = models.DateTimeField(db_index=True)
    recorded_at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, null=True)

    struck = models.CharField("why it is struck through", max_length=200, blank=True)
    struck_by = models.ForeignKey(
        settings.AUTH_USER_MODEL, models.PROTECT, null=True, blank=True, related_name="+"
    )

    class Meta:
        ordering = ["at", "id"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(value__range=(-100_000, 1_000_000)),
                name="planner_reading_value",
                violation_error_message="That is no reading of a must or a wine.",
            ),
            models.CheckConstraint(
                condition=models.Q(temperature__isnull=True)
                | models.Q(temperature__range=(-30_000, 110_000)),
                name="planner_reading_temperature",
            ),
            models.CheckConstraint(
                condition=models.Q(reference__isnull=True)
                | models.Q(reference__range=(10_000, 25_000)),
                name="planner_reading_reference",
            ),
        ]

    def __str__(self):
        return f"{self.get_kind_display()} of {self.batch}"

    def get_absolute_url(self):
        return f"{self.batch.get_absolute_url()}#book"

    @property
    def number(self) -> float:
        return self.value / ReadingKind(self.kind).size


class Purpose(models.TextChoices):
    SUGAR = "sugar", "sugar"
    ACID = "acid", "acid, more or less"
    NUTRIENT = "nutrient", "food for the yeast"
    ENZYME = "enzyme", "enzyme"
    SULPHITE = "sulphite", "sulphite"
    SORBATE = "sorbate", "sorbate"
    FININGS = "finings", "finings"
    TANNIN = "tannin", "tannin"
    PRIMING = "priming", "priming"
    WATER = "water", "water"
    OTHER = "other", "something else"


class Addition(models.Model):
    """So much of a lot, or of water, put into a batch; the rule it was reckoned by stays with it."""

    batch = models.ForeignKey(Batch, models.PROTECT, related_name="additions")
    step = models.ForeignKey(Step, models.PROTECT, null=True, blank=True, related_name="additions")
    purpose = models.CharField(max_length=8, choices=Purpose)
    what = models.CharField(max_length=80)
    item = models.ForeignKey(Item, models.PROTECT, null=True, blank=True, related_name="+")
    amount = models.BigIntegerField()
    base = models.CharField(max_length=3)
    movement = models.OneToOneField(Movement, models.PROTECT, null=True, blank=True)
    day = models.DateField()
    rule = models.CharField(max_length=120, blank=True)
    source = models.CharField(max_length=200, blank=True)
    note = models.CharField(max_length=200, blank=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, null=True)
    recorded_at = models.DateTimeField(auto_now_add=True)
    taken_back = models.BooleanField(default=False)

    class Meta:
        ordering = ["day", "id"]
        constraints = [*days_within("day"), *amounts_within("amount", least=1)]

    def __str__(self):
        return f"{self.what} to {self.batch}"

    def get_absolute_url(self):
        return f"{self.batch.get_absolute_url()}#book"
