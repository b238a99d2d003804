"""Where does the house pick, with whose leave and how much of it?"""

from collections.abc import Iterable

from django.db import transaction

from inventory import activity
from inventory.editing import save_edit
from inventory.models import Person
from inventory.values import check_edit, check_row
from planner.models import Patch, Plant


@transaction.atomic
def add_patch(*, by: Person | None, plants: Iterable[Plant] = (), **values) -> Patch:
    """A new patch with what grows there; atomic, leaves an activity that names no place."""
    patch = Patch(**values)
    check_row(patch)
    patch.save(force_insert=True)
    patch.plants.set(plants)
    activity.record(by=by, verb="add", subject=patch, summary=f"Added the patch {patch}")
    return patch


@transaction.atomic
def edit_patch(patch: Patch, *, version: int, values: dict, by: Person | None) -> Patch:
    """Change a patch if nobody did since `version`."""
    columns = {name: value for name, value in values.items() if name != "plants"}
    check_edit(patch, columns)
    edited = save_edit(patch, version=version, values=columns, by=by)
    if "plants" in values:
        edited.plants.set(values["plants"])
    return edited
