"""Two people edit the same thing: the second is told, and loses nothing."""

from django.db import models, transaction

from inventory import activity
from inventory.models import Person


class EditConflict(Exception):
    """Somebody else saved first; `current` is the row as it now stands."""

    def __init__(self, current: models.Model):
        super().__init__(f"{current} was changed meanwhile")
        self.current = current


@transaction.atomic
def save_edit(
    instance: models.Model, *, version: int, values: dict, by: Person | None, summary: str = ""
) -> models.Model:
    """Write `values` if the row still has `version`, and raise the version by one; atomic."""
    rows = type(instance)._default_manager.filter(pk=instance.pk, version=version)
    if not rows.update(**values, version=version + 1):
        raise EditConflict(type(instance)._default_manager.get(pk=instance.pk))
    instance.refresh_from_db()
    activity.record(by=by, verb="edit", subject=instance, summary=summary or f"Changed {instance}")
    return instance
