"""Two people edit the same thing: the second is told, and loses nothing."""

import copy

from django.core.exceptions import NON_FIELD_ERRORS, ValidationError
from django.db import IntegrityError, models, transaction

from inventory import activity
from inventory.models import Person
from inventory.refusals import Refusal


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
    _refuse_what_the_table_refuses(instance, values)
    try:
        with transaction.atomic():
            changed = rows.update(**values, version=version + 1)
    except IntegrityError:
        raise Refusal("Somebody took that name just now; choose another.") from None
    if not changed:
        raise EditConflict(type(instance)._default_manager.get(pk=instance.pk))
    instance.refresh_from_db()
    activity.record(by=by, verb="edit", subject=instance, summary=summary or f"Changed {instance}")
    return instance


def _refuse_what_the_table_refuses(instance: models.Model, values: dict) -> None:
    """Say in words what a unique column or a check would refuse, at the box it is about."""
    wanted = copy.copy(instance)
    for name, value in values.items():
        setattr(wanted, name, value)
    try:
        wanted.validate_unique()
        wanted.validate_constraints()
    except ValidationError as wrong:
        field, says = next(iter(wrong.message_dict.items()))
        raise Refusal(says[0], field=None if field == NON_FIELD_ERRORS else field) from None
