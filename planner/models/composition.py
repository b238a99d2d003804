"""What an ingredient brings into a must, as far as the house or print knows."""

from django.db import models
from django.urls import reverse

from inventory.models import Item
from inventory.models.limits import Versioned, amounts_within

# Whole thousandths of a gram in 100 g.
WHOLE = 100_000


class HowKnown(models.TextChoices):
    MEASURED = "measured", "measured in this house"
    ON_TRUST = "on_trust", "taken on trust"


class AcidBasis(models.TextChoices):
    TARTARIC = "tartaric"
    MALIC = "malic"
    CITRIC = "citric"
    SULPHURIC = "sulphuric"


class Composition(Versioned):
    """Shares of one item, in thousandths of a gram (nitrogen: of a milligram) per 100 g.

    What is empty is taken from the packaged table by the name `packaged`, or is not known.
    """

    item = models.OneToOneField(Item, models.CASCADE, related_name="composition")
    packaged = models.CharField(max_length=60, blank=True)
    known = models.CharField(max_length=10, choices=HowKnown, default=HowKnown.ON_TRUST)
    source = models.CharField(max_length=160, blank=True)

    sugar = models.PositiveIntegerField(null=True, blank=True)
    water = models.PositiveIntegerField(null=True, blank=True)
    acid = models.PositiveIntegerField(null=True, blank=True)
    acid_as = models.CharField(max_length=10, choices=AcidBasis, default=AcidBasis.CITRIC)
    tannin = models.PositiveIntegerField(null=True, blank=True)
    nitrogen = models.PositiveIntegerField(null=True, blank=True)
    cake = models.PositiveIntegerField("left in the press, mL per kg", null=True, blank=True)
    piece = models.BigIntegerField("weight of one piece", null=True, blank=True)

    class Meta:
        ordering = ["item__name"]
        constraints = [
            *(
                models.CheckConstraint(
                    condition=models.Q(**{f"{part}__isnull": True})
                    | models.Q(**{f"{part}__lte": WHOLE}),
                    name=f"planner_composition_{part}",
                    violation_error_message="Of 100 g no more than 100 g can be anything.",
                )
                for part in ("sugar", "water", "acid", "tannin")
            ),
            models.CheckConstraint(
                condition=models.Q(cake__isnull=True) | models.Q(cake__lte=2000),
                name="planner_composition_cake",
                violation_error_message="A kilogram leaves at most 2 L in the press.",
            ),
            *amounts_within("piece", least=1),
        ]

    def __str__(self):
        return f"What is in {self.item}"

    def get_absolute_url(self):
        return reverse("inventory:item-detail", args=[self.item_id])
