"""The private addresses under which calendars fetch the steps."""

from django.conf import settings
from django.db import models


class FeedToken(models.Model):
    """One private calendar address; only the digest of its secret is kept."""

    class Content(models.TextChoices):
        STEPS = "steps", "steps of all batches"
        WINDOWS = "windows", "harvest windows"
        ORDERS = "orders", "order-by days"

    person = models.ForeignKey(settings.AUTH_USER_MODEL, models.CASCADE, related_name="feed_tokens")
    digest = models.CharField(max_length=64, unique=True)
    label = models.CharField(max_length=60)
    content = models.CharField(max_length=10, choices=Content, default=Content.STEPS)
    alarm_hours = models.PositiveSmallIntegerField(null=True, blank=True)
    made_at = models.DateTimeField(auto_now_add=True)
    last_used = models.DateField(null=True, blank=True)

    class Meta:
        ordering = ["id"]

    def __str__(self):
        return self.label
