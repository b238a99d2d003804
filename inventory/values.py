"""May this value be written? What the database would refuse is refused here first, in words."""

import copy
import datetime as dt
from collections.abc import Collection

from django.core.exceptions import NON_FIELD_ERRORS, ValidationError
from django.db import models

from inventory.models.limits import FIRST_DAY, LAST_DAY, MOST
from inventory.refusals import Refusal


def check_quantity(quantity: int, *, least: int = 1, field: str = "quantity") -> None:
    """Whole thousandths from `least` to a thousand tonnes."""
    if not least <= quantity <= MOST:
        raise Refusal("A quantity must be more than nothing and within reason.", field=field)


def check_day(day: dt.date | None, *, field: str) -> None:
    if day is not None and not FIRST_DAY <= day <= LAST_DAY:
        raise Refusal("A day must lie between 1900 and 2199.", field=field)


def check_text(text: str, *, field: str, says: str) -> None:
    if not text.strip():
        raise Refusal(says, field=field)


def check_columns(instance: models.Model, columns: Collection[str]) -> None:
    """Lengths and choices of these columns; asks the database nothing."""
    rest = {field.name for field in instance._meta.fields} - set(columns)
    try:
        instance.clean_fields(exclude=rest)
    except ValidationError as error:
        raise refusal(error) from None


def check_row(instance: models.Model) -> None:
    """Everything the table demands, uniqueness included; a few queries."""
    try:
        instance.full_clean()
    except ValidationError as error:
        raise refusal(error) from None


def refusal(error: ValidationError) -> Refusal:
    field, messages = next(iter(error.message_dict.items()))
    return Refusal(messages[0], field=None if field == NON_FIELD_ERRORS else field)


def check_edit(instance: models.Model, values: dict) -> models.Model:
    """Return the row with these values in place of its own, if that is what the table demands."""
    edited = copy.copy(instance)
    for column, value in values.items():
        setattr(edited, column, value)
    check_row(edited)
    return edited
