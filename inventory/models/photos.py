"""Pictures that people took, kept as files beside the database."""

from django.conf import settings
from django.db import models
from django.urls import reverse


class Photo(models.Model):
    """One picture, re-drawn and without what the camera wrote into it; `about` names its row."""

    name = models.CharField(max_length=40, unique=True)
    about = models.CharField(max_length=40, db_index=True)
    width = models.PositiveIntegerField()
    height = models.PositiveIntegerField()
    size = models.PositiveIntegerField("bytes")
    words = models.CharField("what it shows", max_length=120)
    by = models.ForeignKey(settings.AUTH_USER_MODEL, models.PROTECT, null=True)
    recorded_at = models.DateTimeField(auto_now_add=True)
    taken_back = models.BooleanField(default=False)

    class Meta:
        ordering = ["id"]

    def __str__(self):
        return self.words

    def get_absolute_url(self):
        return reverse("inventory:photo", args=[self.pk])
