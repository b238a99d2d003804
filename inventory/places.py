"""Where are things kept, and how warm does it get there?"""

from django.db import transaction

from inventory import activity
from inventory.editing import save_edit
from inventory.models import Person, StoragePlace
from inventory.refusals import Refusal
from inventory.values import check_edit, check_row


@transaction.atomic
def add_place(*, by: Person | None, **values) -> StoragePlace:
    """A new storage place; atomic, leaves an activity."""
    place = StoragePlace(**values)
    _check_warmth(place)
    check_row(place)
    place.save(force_insert=True)
    activity.record(by=by, verb="add", subject=place, summary=f"Added the place {place}")
    return place


@transaction.atomic
def edit_place(
    place: StoragePlace, *, version: int, values: dict, by: Person | None
) -> StoragePlace:
    """Change a place if nobody did since `version`."""
    _check_warmth(check_edit(place, values))
    return save_edit(place, version=version, values=values, by=by)


def _check_warmth(place: StoragePlace) -> None:
    degrees = place.coolest_c, place.ordinary_c, place.warmest_c
    known = [degree for degree in degrees if degree is not None]
    if known != sorted(known):
        raise Refusal("Write coolest, ordinary and warmest in rising order.", field="coolest_c")
    # From a deep freezer to a sun-baked shed: common practice, no source.
    if known and not -40 <= known[0] <= known[-1] <= 60:
        raise Refusal("Write degrees Celsius from -40 to 60.", field="warmest_c")
