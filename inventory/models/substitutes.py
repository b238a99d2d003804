"""What may stand in for an item, in which order, and how much of it."""

from django.db import models

from inventory.models.items import Item


class Substitute(models.Model):
    """So many thousandths of another item in its own unit do for one whole unit of this one."""

    item = models.ForeignKey(Item, models.CASCADE, related_name="substitutes")
    other = models.ForeignKey(Item, models.PROTECT, related_name="+")
    place = models.PositiveSmallIntegerField("which to take first")
    factor = models.PositiveIntegerField("for each unit, thousandths")
    note = models.CharField(max_length=160, blank=True)

    class Meta:
        ordering = ["place", "id"]
        constraints = [
            models.UniqueConstraint(fields=["item", "other"], name="inventory_substitute_once"),
            models.CheckConstraint(
                condition=models.Q(factor__range=(1, 1_000_000)),
                name="inventory_substitute_factor",
                violation_error_message="A factor lies between 0.001 and 1000.",
            ),
            models.CheckConstraint(
                condition=~models.Q(item=models.F("other")), name="inventory_substitute_other"
            ),
        ]

    def __str__(self):
        return f"{self.other} for {self.item}"

    def get_absolute_url(self):
        return self.item.get_absolute_url()

    @property
    def factor_text(self) -> str:
        return f"{self.factor / 1000:g}"

    def amount(self, quantity: int) -> int:
        """How much of the other does for a quantity of the item, rounded up."""
        return -(-quantity * self.factor // 1000)
