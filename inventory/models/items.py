"""What the house can hold and count, and where it is kept."""

from fractions import Fraction

from django.db import models
from django.urls import reverse

from inventory.models.limits import Versioned, amounts_within


class Kind(models.TextChoices):
    FORAGED = "foraged", "foraged or grown"
    INGREDIENT = "ingredient", "ingredient"
    YEAST = "yeast", "yeast"
    ADDITIVE = "additive", "additive"
    BOTTLE = "bottle", "bottle"
    CLOSURE = "closure", "closure"
    CAGE = "cage", "cage"
    CONSUMABLE = "consumable", "consumable"


class BaseUnit(models.TextChoices):
    """Stored in whole thousandths: of a gram, of a millilitre, of a piece."""

    MASS = "mg", "by weight (g, kg)"
    VOLUME = "uL", "by volume (mL, L)"
    PIECES = "mpc", "by the piece"


class Item(Versioned):
    """Anything the house can hold and count: sugar, yeast, a bottle, a cage."""

    name = models.CharField(max_length=80, unique=True)
    kind = models.CharField(max_length=12, choices=Kind)
    base = models.CharField("counted", max_length=3, choices=BaseUnit)
    piece_word = models.CharField(max_length=30, blank=True)
    notes = models.TextField(blank=True)
    archived = models.BooleanField(default=False)

    density_g_per_l = models.PositiveIntegerField(null=True, blank=True)
    teaspoon = models.BigIntegerField(null=True, blank=True)
    tablespoon = models.BigIntegerField(null=True, blank=True)

    # Of yeast: the must it may go into.
    coolest_c = models.SmallIntegerField("works from, °C", null=True, blank=True)
    warmest_c = models.SmallIntegerField("bears up to, °C", null=True, blank=True)

    # An assumption of the house: of its strength it loses so much in a year.
    fades_percent = models.PositiveSmallIntegerField("fades in a year, %", null=True, blank=True)

    pack = models.BigIntegerField(default=1)
    minimum_order = models.BigIntegerField(default=0)
    safety_stock = models.BigIntegerField(default=0)
    lead_days = models.PositiveIntegerField(default=0)
    shelf_days_sealed = models.PositiveIntegerField(null=True, blank=True)
    shelf_days_opened = models.PositiveIntegerField(null=True, blank=True)
    shop = models.CharField(max_length=80, blank=True)
    pack_price = models.BigIntegerField(null=True, blank=True)

    class Meta:
        ordering = ["name"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(base__in=BaseUnit.values),
                name="inventory_item_base_known",
                violation_error_message="Say whether it is counted by weight, volume or piece.",
            ),
            models.CheckConstraint(
                condition=models.Q(lead_days__lte=730), name="inventory_item_lead_days"
            ),
            models.CheckConstraint(
                condition=models.Q(fades_percent__isnull=True)
                | models.Q(fades_percent__range=(1, 99)),
                name="inventory_item_fades",
            ),
            models.CheckConstraint(
                condition=models.Q(coolest_c__isnull=True)
                | models.Q(warmest_c__isnull=True)
                | models.Q(coolest_c__lt=models.F("warmest_c")),
                name="inventory_item_warmth",
                violation_error_message="Write the cooler end first.",
            ),
            *amounts_within("pack", "teaspoon", "tablespoon", least=1),
            *amounts_within("minimum_order", "safety_stock", "pack_price"),
        ]

    def __str__(self):
        return self.name

    def get_absolute_url(self):
        return reverse("inventory:item-detail", args=[self.pk])

    @property
    def measuring(self) -> dict:
        """How an amount of it is read: its base, density, spoons and word for a piece."""
        return {
            "base": self.base,
            "density_mg_per_ul": Fraction(self.density_g_per_l or 0, 1000) or None,
            "spoons": self.spoons,
            "default_unit": (self.piece_word or None) if self.base == BaseUnit.PIECES else None,
        }

    @property
    def spoons(self) -> dict[str, int]:
        found = {"tsp": self.teaspoon, "tbsp": self.tablespoon}
        return {name: amount for name, amount in found.items() if amount}


class StoragePlace(Versioned):
    """A shelf, fridge or cellar, with how warm it gets."""

    name = models.CharField(max_length=60, unique=True)
    coolest_c = models.SmallIntegerField(null=True, blank=True)
    ordinary_c = models.SmallIntegerField(null=True, blank=True)
    warmest_c = models.SmallIntegerField(null=True, blank=True)
    dark = models.BooleanField(default=True)

    class Meta:
        ordering = ["name"]

    def __str__(self):
        return self.name

    def get_absolute_url(self):
        return reverse("inventory:place-list")
