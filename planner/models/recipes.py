"""What is made, version by version; a version that a batch used never changes."""

from django.conf import settings
from django.db import models
from django.urls import reverse

from inventory.models import Item
from inventory.models.limits import Versioned, amounts_within
from inventory.models.vessels import VesselKind


class Product(models.TextChoices):
    STILL = "still", "still wine"
    FIZZ = "fizz", "sparkling wine"
    MEAD = "mead", "mead"
    CIDER = "cider", "cider"
    CORDIAL = "cordial", "cordial or syrup"
    INFUSION = "infusion", "fruit in bought spirit"


class Basis(models.TextChoices):
    PER_LITRE = "per_litre", "per litre of must"
    PER_KG_FRUIT = "per_kg_fruit", "per kg of fruit"
    FIXED = "fixed", "fixed amount"


class Weekend(models.TextChoices):
    ANY = "any", "any day"
    WEEKEND = "weekend", "weekends only"
    WORKDAY = "workday", "working days only"


class Closing(models.TextChoices):
    """How the finished drink is shut in, which decides what sugar may be left in it."""

    STILL = "still", "closed and still"
    FIZZ = "fizz", "closed with fizz"
    OPEN = "open", "drunk young, never shut tight"


class Sweet(models.TextChoices):
    DRY = "dry", "dry"
    MEDIUM_DRY = "medium dry", "medium dry"
    MEDIUM = "medium", "medium"
    SWEET = "sweet", "sweet"


class RecipeQuerySet(models.QuerySet):
    def with_use(self):
        """How many versions and batches each has, as `version_count` and `batch_count`."""
        return self.annotate(
            version_count=models.Count("versions", distinct=True),
            batch_count=models.Count("versions__batches", distinct=True),
        )


class RecipeVersionQuerySet(models.QuerySet):
    def with_batches(self):
        return self.annotate(batch_count=models.Count("batches"))


class Recipe(Versioned):
    """A drink the house makes, under one name through all its versions."""

    name = models.CharField(max_length=80, unique=True)
    product = models.CharField(max_length=10, choices=Product)
    notes = models.TextField(blank=True)
    archived = models.BooleanField(default=False)

    objects = RecipeQuerySet.as_manager()

    class Meta:
        ordering = ["name"]

    def __str__(self):
        return self.name

    def get_absolute_url(self):
        return reverse("planner:recipe-detail", args=[self.pk])


class RecipeVersion(Versioned):
    """One way of making it, numbered; the parent and the reason say what changed."""

    recipe = models.ForeignKey(Recipe, models.CASCADE, related_name="versions")
    number = models.PositiveIntegerField()
    parent = models.ForeignKey("self", models.PROTECT, null=True, blank=True)
    reason = models.CharField(max_length=160, blank=True)
    made_by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, null=True)
    made_at = models.DateTimeField(auto_now_add=True)

    # What it was reckoned for; gravity in ten-thousandths, strength in tenths of % vol.
    volume = models.BigIntegerField(null=True, blank=True)
    gravity = models.PositiveIntegerField(null=True, blank=True)
    sweet = models.CharField(max_length=10, choices=Sweet, blank=True)
    closing = models.CharField(max_length=5, choices=Closing, blank=True)
    steadied = models.BooleanField(default=False)
    bears_low = models.PositiveSmallIntegerField(null=True, blank=True)
    bears_high = models.PositiveSmallIntegerField(null=True, blank=True)
    loss = models.PositiveSmallIntegerField("stays behind, thousandths", null=True, blank=True)

    objects = RecipeVersionQuerySet.as_manager()

    class Meta:
        ordering = ["recipe", "-number"]
        constraints = [
            *amounts_within("volume", least=1),
            models.CheckConstraint(
                condition=models.Q(gravity__isnull=True)
                | models.Q(gravity__range=(10_000, 12_000)),
                name="planner_recipeversion_gravity",
                violation_error_message="A start gravity lies between 1.000 and 1.200.",
            ),
            models.CheckConstraint(
                condition=models.Q(bears_low__isnull=True)
                | models.Q(bears_high__isnull=True)
                | models.Q(bears_high__gte=models.F("bears_low"), bears_high__lte=250),
                name="planner_recipeversion_bears",
                violation_error_message="A yeast bears 0 to 25 %% vol; write the lower figure first.",
            ),
            models.CheckConstraint(
                condition=models.Q(loss__isnull=True) | models.Q(loss__lte=500),
                name="planner_recipeversion_loss",
                violation_error_message="At most half of it stays behind.",
            ),
            models.UniqueConstraint(fields=["recipe", "number"], name="planner_recipeversion_once"),
        ]

    def __str__(self):
        return f"{self.recipe}, version {self.number}"

    def get_absolute_url(self):
        return reverse("planner:recipe-version", args=[self.recipe_id, self.number])


class StepTemplate(models.Model):
    """A step of the recipe: so many days after the start, or after an earlier step."""

    version = models.ForeignKey(RecipeVersion, models.CASCADE, related_name="steps")
    place = models.PositiveSmallIntegerField()
    title = models.CharField(max_length=80)
    after = models.ForeignKey("self", models.CASCADE, null=True, blank=True)
    offset_days = models.PositiveSmallIntegerField()
    least_days = models.PositiveSmallIntegerField(null=True, blank=True)
    most_days = models.PositiveSmallIntegerField(null=True, blank=True)
    weekend = models.CharField(max_length=10, choices=Weekend, default=Weekend.ANY)
    vessel_wanted = models.CharField(max_length=10, choices=VesselKind, blank=True)
    when_still = models.BooleanField("only when still twice", default=False)
    times = models.PositiveSmallIntegerField("so many times over", default=1)
    every_days = models.PositiveSmallIntegerField("so many days apart", default=1)
    notes = models.TextField(blank=True)

    class Meta:
        ordering = ["version", "place"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(times__range=(1, 60)) & models.Q(every_days__range=(1, 90)),
                name="planner_steptemplate_times",
                violation_error_message="A step is repeated 1 to 60 times, 1 to 90 days apart.",
            ),
            models.UniqueConstraint(fields=["version", "place"], name="planner_steptemplate_once"),
        ]

    def __str__(self):
        return self.title


class RecipeLine(models.Model):
    """So much of an item, per litre of must, per kg of fruit or as a fixed amount."""

    version = models.ForeignKey(RecipeVersion, models.CASCADE, related_name="lines")
    item = models.ForeignKey(Item, models.PROTECT, related_name="recipe_lines")
    step = models.ForeignKey(StepTemplate, models.CASCADE, related_name="lines")
    basis = models.CharField(max_length=12, choices=Basis)
    amount = models.BigIntegerField()
    is_fruit = models.BooleanField(default=False)
    note = models.CharField(max_length=120, blank=True)

    class Meta:
        ordering = ["version", "step__place", "id"]
        constraints = [*amounts_within("amount", least=1)]

    def __str__(self):
        return f"{self.item} {self.get_basis_display()}"
