"""When nobody of the house can go out."""

from django.conf import settings
from django.db import models
from django.urls import reverse

from inventory.models.limits import days_within


class BusySpell(models.Model):
    """Days from first to last, both included, on which nothing can be picked or made."""

    what = models.CharField(max_length=80)
    first = models.DateField()
    last = models.DateField()
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, null=True)
    recorded_at = models.DateTimeField(auto_now_add=True)
    taken_back = models.BooleanField(default=False)

    class Meta:
        ordering = ["first", "id"]
        constraints = [
            *days_within("first", "last"),
            models.CheckConstraint(
                condition=models.Q(last__gte=models.F("first")),
                name="planner_busyspell_order",
                violation_error_message="The last day comes before the first.",
            ),
        ]

    def __str__(self):
        return self.what

    def get_absolute_url(self):
        return reverse("planner:busy-list")
