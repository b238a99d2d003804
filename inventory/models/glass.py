"""Bottles, what shuts them and what holds the stopper down: which fit together, and in which state."""

import uuid

from django.conf import settings
from django.db import models
from django.urls import reverse

from inventory.models.items import Item
from inventory.models.limits import Versioned, amounts_within, days_within
from inventory.models.stock import Lot, Movement

# Beyond any vessel of glass: 50 bar, in thousandths; a guard against slips, no source.
MOST_MBAR = 50_000


class Finish(models.TextChoices):
    """The mouth of a bottle, and so what shuts it."""

    CORK = "cork", "straight cork"
    FIZZ = "fizz", "sparkling mouth, for a stopper and cage"
    CROWN_26 = "crown_26", "crown cap, 26 mm"
    CROWN_29 = "crown_29", "crown cap, 29 mm"
    SWING = "swing", "swing top"
    SCREW = "screw", "screw cap"
    PLASTIC = "plastic", "plastic screw bottle"


class GlassState(models.TextChoices):
    """Where a bottle is that is not clean; the clean ones are what the ledger has on hand."""

    DIRTY = "dirty", "dirty"
    FILLED = "filled", "filled"
    LENT = "lent", "lent"
    CRACKED = "cracked", "cracked"


def _rating(prefix: str) -> list[models.CheckConstraint]:
    return [
        models.CheckConstraint(
            condition=models.Q(rated_mbar__isnull=True)
            | models.Q(rated_mbar__range=(1, MOST_MBAR)),
            name=f"inventory_{prefix}_rating",
            violation_error_message="A rating lies between 0.001 and 50 bar, or is not known.",
        ),
        models.CheckConstraint(
            condition=models.Q(rated_mbar__isnull=True) | ~models.Q(rating_source=""),
            name=f"inventory_{prefix}_rating_source",
            violation_error_message="Say where the rating comes from.",
        ),
    ]


class BottleType(Versioned):
    """What a kind of bottle holds, which mouth it has and how much pressure it is rated for."""

    item = models.OneToOneField(Item, models.PROTECT, related_name="bottle_type")
    nominal = models.BigIntegerField("nominal volume")
    brimful = models.BigIntegerField("brimful volume", null=True, blank=True)
    finish = models.CharField(max_length=10, choices=Finish)
    rated_mbar = models.PositiveIntegerField("rated gauge pressure", null=True, blank=True)
    rating_source = models.CharField(max_length=160, blank=True)
    weight_g = models.PositiveIntegerField(null=True, blank=True)
    colour = models.CharField(max_length=40, blank=True)

    class Meta:
        ordering = ["-nominal", "item__name"]
        constraints = [
            *amounts_within("nominal", "brimful", least=1),
            models.CheckConstraint(
                condition=models.Q(brimful__isnull=True)
                | models.Q(brimful__gte=models.F("nominal")),
                name="inventory_bottletype_brimful",
                violation_error_message="Brimful it holds at least its nominal volume.",
            ),
            *_rating("bottletype"),
        ]

    def __str__(self):
        return str(self.item)

    def get_absolute_url(self):
        return reverse("inventory:item-detail", args=[self.item_id])


class ClosureType(Versioned):
    """Which mouths a kind of closure fits, and what it needs besides."""

    item = models.OneToOneField(Item, models.PROTECT, related_name="closure_type")
    fits = models.JSONField(default=list)
    needs_cage = models.BooleanField(default=False)
    tool = models.CharField("tool needed", max_length=80, blank=True)
    rated_mbar = models.PositiveIntegerField("rated gauge pressure", null=True, blank=True)
    rating_source = models.CharField(max_length=160, blank=True)
    uses = models.PositiveSmallIntegerField("times it may be used", default=1)

    class Meta:
        ordering = ["item__name"]
        constraints = [
            *_rating("closuretype"),
            models.CheckConstraint(
                condition=models.Q(uses__range=(1, 1000)),
                name="inventory_closuretype_uses",
                violation_error_message="A closure is used 1 to 1000 times.",
            ),
        ]

    def __str__(self):
        return str(self.item)

    def get_absolute_url(self):
        return reverse("inventory:item-detail", args=[self.item_id])

    @property
    def fitting(self) -> list[str]:
        return [Finish(word).label for word in self.fits]


class CageType(Versioned):
    """How often a kind of cage may be used before it is spent."""

    item = models.OneToOneField(Item, models.PROTECT, related_name="cage_type")
    uses = models.PositiveSmallIntegerField("times it may be used", default=1)

    class Meta:
        ordering = ["item__name"]
        constraints = [
            models.CheckConstraint(
                condition=models.Q(uses__range=(1, 1000)),
                name="inventory_cagetype_uses",
                violation_error_message="A cage is used 1 to 1000 times.",
            )
        ]

    def __str__(self):
        return str(self.item)

    def get_absolute_url(self):
        return reverse("inventory:item-detail", args=[self.item_id])


class UsedLot(models.Model):
    """Cages or closures of one lot that have each been used so many times; a lot without is new."""

    lot = models.OneToOneField(Lot, models.PROTECT, related_name="used")
    uses = models.PositiveSmallIntegerField()

    class Meta:
        constraints = [
            models.CheckConstraint(
                condition=models.Q(uses__range=(1, 1000)), name="inventory_usedlot_uses"
            )
        ]

    def __str__(self):
        return f"{self.lot}, used {self.uses} times"


class Loan(Versioned):
    """Bottles lent to somebody, and how many came back."""

    item = models.ForeignKey(Item, models.PROTECT, related_name="loans")
    to = models.CharField("lent to", max_length=80)
    count = models.PositiveIntegerField()
    returned = models.PositiveIntegerField(default=0)
    lent = models.DateField()
    due = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["due", "id"]
        constraints = [
            *days_within("lent", "due"),
            models.CheckConstraint(
                condition=models.Q(count__range=(1, 1_000_000))
                & models.Q(returned__lte=models.F("count")),
                name="inventory_loan_count",
            ),
        ]

    def __str__(self):
        return f"{self.count} {self.item} lent to {self.to}"

    @property
    def out(self) -> int:
        return self.count - self.returned


class GlassLine(models.Model):
    """One signed line about bottles that are not clean; never changed, taken back by another."""

    item = models.ForeignKey(Item, models.PROTECT, related_name="glass_lines")
    state = models.CharField(max_length=8, choices=GlassState)
    change = models.IntegerField()
    day = models.DateField()
    reason = models.CharField(max_length=200, blank=True)
    act = models.UUIDField(default=uuid.uuid4, editable=False, db_index=True)
    movement = models.ForeignKey(
        Movement, models.PROTECT, null=True, blank=True, related_name="glass_lines"
    )

    recorded_at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, null=True)
    undoes = models.OneToOneField("self", models.PROTECT, null=True, blank=True)

    class Meta:
        ordering = ["id"]
        constraints = [
            *days_within("day"),
            models.CheckConstraint(
                condition=models.Q(change__range=(-1_000_000, 1_000_000)) & ~models.Q(change=0),
                name="inventory_glassline_change",
            ),
        ]

    def __str__(self):
        return f"{self.change:+} {self.item} {self.get_state_display()}"
