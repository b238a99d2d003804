"""Lots and the signed lines that move them; what is on its way, needed and promised."""

from django.conf import settings
from django.db import models
from django.db.models import F, Sum, Value
from django.db.models.functions import Coalesce
from django.urls import reverse

from inventory.models.items import Item, StoragePlace
from inventory.models.limits import MOST, Versioned, amounts_within, days_within


class LotQuerySet(models.QuerySet):
    def with_on_hand(self):
        total = Coalesce(
            Sum("movements__quantity"), Value(0), output_field=models.BigIntegerField()
        )
        # A query that sums rows loses the order of Meta.
        return self.annotate(on_hand=total).order_by(*self.model._meta.ordering)

    def in_stock(self):
        return self.with_on_hand().filter(on_hand__gt=0)


class Lot(Versioned):
    """A quantity of one item that arrived together."""

    item = models.ForeignKey(Item, models.PROTECT, related_name="lots")
    mark = models.CharField(max_length=20, unique=True)
    place = models.ForeignKey(StoragePlace, models.PROTECT, null=True, blank=True)
    origin = models.CharField(max_length=120, blank=True)

    received = models.DateField()
    use_by = models.DateField(null=True, blank=True)
    opened = models.DateField(null=True, blank=True)

    cost = models.BigIntegerField(null=True, blank=True)

    objects = LotQuerySet.as_manager()

    class Meta:
        ordering = [F("use_by").asc(nulls_last=True), "id"]
        constraints = [*days_within("received", "use_by", "opened"), *amounts_within("cost")]

    def __str__(self):
        return f"{self.mark} {self.item}, received {self.received.day} {self.received:%b %Y}"

    def get_absolute_url(self):
        return reverse("inventory:lot-detail", args=[self.pk])


class Requirement(models.Model):
    """A dated need for an item, with a label that says whose it is."""

    class State(models.TextChoices):
        OPEN = "open", "open"
        MET = "met", "met"
        WITHDRAWN = "withdrawn", "withdrawn"

    item = models.ForeignKey(Item, models.PROTECT, related_name="requirements")
    day = models.DateField()
    quantity = models.BigIntegerField()
    label = models.CharField(max_length=160)
    state = models.CharField(max_length=10, choices=State, default=State.OPEN)
    origin = models.CharField(max_length=40, blank=True, db_index=True)
    link = models.CharField(max_length=200, blank=True)

    class Meta:
        ordering = ["day", "id"]
        constraints = [*days_within("day"), *amounts_within("quantity", least=1)]
        indexes = [
            models.Index(
                fields=["item", "day", "id", "quantity"],
                name="inventory_requirement_open",
                condition=models.Q(state="open"),
            )
        ]

    def __str__(self):
        return self.label

    def get_absolute_url(self):
        return self.link or reverse("inventory:item-detail", args=[self.item_id])

    @property
    def lacking(self) -> int:
        """What no lot is promised to yet; for rows with their reservations fetched."""
        return self.quantity - sum(row.quantity for row in self.reservations.all())


class Receipt(Versioned):
    """Goods on their way: what is still expected, and when."""

    class State(models.TextChoices):
        EXPECTED = "expected", "on its way"
        ARRIVED = "arrived", "arrived"
        CANCELLED = "cancelled", "cancelled"

    item = models.ForeignKey(Item, models.PROTECT, related_name="receipts")
    due = models.DateField()
    quantity = models.BigIntegerField()
    shop = models.CharField(max_length=80, blank=True)
    note = models.CharField(max_length=160, blank=True)
    state = models.CharField(max_length=10, choices=State, default=State.EXPECTED)
    lot = models.ForeignKey(Lot, models.PROTECT, null=True, blank=True, related_name="receipts")

    class Meta:
        ordering = ["due", "id"]
        constraints = [*days_within("due"), *amounts_within("quantity", least=1)]
        indexes = [
            models.Index(
                fields=["item", "due", "id", "quantity"],
                name="inventory_receipt_expected",
                condition=models.Q(state="expected"),
            )
        ]

    def __str__(self):
        return f"{self.item}, due {self.due.day} {self.due:%b %Y}"

    def get_absolute_url(self):
        return reverse("inventory:item-detail", args=[self.item_id])


class Movement(models.Model):
    """One signed line in the ledger; never changed, corrected only by another line."""

    class Kind(models.TextChoices):
        RECEIVE = "receive", "received"
        ISSUE = "issue", "used"
        ADJUST = "adjust", "adjusted"
        COUNT = "count", "counted"
        UNDO = "undo", "undone"

    lot = models.ForeignKey(Lot, models.PROTECT, related_name="movements")
    quantity = models.BigIntegerField()
    kind = models.CharField(max_length=10, choices=Kind)
    day = models.DateField()
    reason = models.CharField(max_length=200, blank=True)

    recorded_at = models.DateTimeField(auto_now_add=True)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, null=True)
    requirement = models.ForeignKey(
        Requirement, models.PROTECT, null=True, blank=True, related_name="movements"
    )
    undoes = models.OneToOneField("self", models.PROTECT, null=True, blank=True)

    class Meta:
        ordering = ["id"]
        constraints = [
            *days_within("day"),
            models.CheckConstraint(
                condition=models.Q(quantity__range=(-MOST, MOST)) & ~models.Q(quantity=0),
                name="inventory_movement_quantity",
                violation_error_message="A movement must move something, within a sensible amount.",
            ),
            models.CheckConstraint(
                condition=models.Q(kind="receive", quantity__gt=0)
                | models.Q(kind="issue", quantity__lt=0)
                | models.Q(kind__in=["adjust", "count", "undo"]),
                name="inventory_movement_sign",
                violation_error_message="Received adds, used takes away.",
            ),
        ]

    def __str__(self):
        return f"{self.get_kind_display()} {self.quantity} of lot {self.lot_id}"


class Reservation(models.Model):
    """Part of a lot promised to a requirement; `by_hand` ones stay where a person put them."""

    lot = models.ForeignKey(Lot, models.PROTECT, related_name="reservations")
    requirement = models.ForeignKey(Requirement, models.PROTECT, related_name="reservations")
    quantity = models.BigIntegerField()
    by_hand = models.BooleanField(default=False)

    class Meta:
        ordering = ["id"]
        constraints = [
            *amounts_within("quantity", least=1),
            models.UniqueConstraint(
                fields=["lot", "requirement"], name="inventory_reservation_once"
            ),
        ]

    def __str__(self):
        return f"{self.quantity} of lot {self.lot_id} for {self.requirement_id}"
