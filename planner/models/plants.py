"""What can be picked: catalogue species and the house's own, with their hazards."""

from django.db import models
from django.urls import reverse

from inventory.models import Item
from inventory.models.limits import Versioned


class Hazard(models.IntegerChoices):
    NONE_KNOWN = 0, "none known"
    NOTE = 1, "note"
    CAUTION = 2, "caution"
    SERIOUS = 3, "serious: toxic part, or a group of people must avoid it"
    DEADLY = 4, "deadly look-alike or hazardous plant"


class Plant(Versioned):
    """One part of one species: when it can be picked, and what to beware of."""

    slug = models.SlugField(max_length=60, unique=True)
    common_name = models.CharField(max_length=80)
    latin_name = models.CharField(max_length=120, blank=True)
    part = models.CharField(max_length=120, blank=True)
    uses = models.CharField(max_length=160, blank=True)
    own = models.BooleanField(default=False)
    item = models.OneToOneField(Item, models.SET_NULL, null=True, blank=True, related_name="plant")

    first_day = models.PositiveSmallIntegerField(null=True, blank=True)
    peak_day = models.PositiveSmallIntegerField(null=True, blank=True)
    last_day = models.PositiveSmallIntegerField(null=True, blank=True)
    wraps_year = models.BooleanField(default=False)
    reference_place = models.CharField(max_length=120, blank=True)
    reference_latitude_thousandths = models.IntegerField(default=51_760)
    reference_height_m = models.IntegerField(default=63)
    lasts_days = models.PositiveSmallIntegerField(
        "open for so many days here", null=True, blank=True
    )
    late_fruit = models.BooleanField(default=False)
    bbch = models.CharField(max_length=40, blank=True)
    bbch_name = models.CharField(max_length=120, blank=True)
    cue = models.CharField(max_length=120, blank=True)
    cue_lag_days = models.SmallIntegerField(null=True, blank=True)

    room_days = models.CharField(max_length=20, blank=True)
    fridge_days = models.CharField(max_length=20, blank=True)
    freezer_months = models.CharField(max_length=20, blank=True)
    net_yield_percent = models.CharField(max_length=20, blank=True)
    dose = models.CharField(max_length=80, blank=True)
    sugar = models.CharField(max_length=80, blank=True)
    acid = models.CharField(max_length=80, blank=True)
    tannin = models.CharField(max_length=80, blank=True)

    hazard_level = models.PositiveSmallIntegerField(choices=Hazard, default=Hazard.NONE_KNOWN)
    hazard_text = models.TextField(blank=True)
    look_alikes = models.TextField(blank=True)
    legal_class = models.CharField(max_length=40, blank=True)
    legal_note = models.TextField(blank=True)
    notes = models.TextField(blank=True)
    sources = models.JSONField(default=dict, blank=True)

    class Meta:
        ordering = ["common_name", "part"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(**{f"{field}__isnull": True})
                | models.Q(**{f"{field}__range": (1, 365)}),
                name=f"planner_plant_{field}_of_year",
            )
            for field in ("first_day", "peak_day", "last_day")
        ]

    def __str__(self):
        return self.common_name

    def get_absolute_url(self):
        return reverse("planner:plant-detail", args=[self.slug])

    @property
    def must_not_be_used(self) -> bool:
        return self.legal_class in ("do-not-use", "invasive-controlled")

    @property
    def opens_with_caution(self) -> bool:
        return self.hazard_level >= Hazard.SERIOUS or self.must_not_be_used
