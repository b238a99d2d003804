"""What must and wine stand in, by what it holds to the brim?"""

from django.db import transaction

from inventory import activity
from inventory.editing import save_edit
from inventory.models import Person, Vessel
from inventory.values import check_edit, check_row


@transaction.atomic
def add_vessel(*, by: Person | None, **values) -> Vessel:
    """A new vessel; atomic, leaves an activity."""
    vessel = Vessel(**values)
    check_row(vessel)
    vessel.save(force_insert=True)
    activity.record(by=by, verb="add", subject=vessel, summary=f"Added the vessel {vessel}")
    return vessel


@transaction.atomic
def edit_vessel(vessel: Vessel, *, version: int, values: dict, by: Person | None) -> Vessel:
    """Change a vessel if nobody did since `version`; archived, it is out of sight."""
    check_edit(vessel, values)
    return save_edit(vessel, version=version, values=values, by=by)
