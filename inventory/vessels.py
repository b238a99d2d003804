"""What must and wine stand in, by what it holds to the brim?"""

import datetime as dt
from collections.abc import Iterable

from django.db import transaction
from django.db.models import F

from inventory import activity
from inventory.editing import save_edit
from inventory.models import Person, Vessel
from inventory.refusals import Refusal
from inventory.values import check_columns, check_day, check_edit, check_row, check_text


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


@transaction.atomic
def lend(*, vessel: Vessel, to: str, by: Person | None, back_by: dt.date | None = None) -> Vessel:
    """Lend a vessel to somebody; refused while it is away. Can be undone."""
    check_text(to, field="to", says="Say to whom.")
    check_day(back_by, field="back_by")
    held = _hold(vessel)
    if held.lent_to:
        raise Refusal(f"{held} is with {held.lent_to} already.")
    said = f"Lent {held} to {to.strip()}"
    return _change(held, by, "lend", said, lent_to=to.strip()[:80], back_by=back_by)


@transaction.atomic
def take_back(*, vessel: Vessel, by: Person | None, to_wash: bool = True) -> Vessel:
    """It is in the house again, to be washed unless it came clean. Can be undone."""
    held = _hold(vessel)
    if not held.lent_to:
        raise Refusal(f"{held} is not lent.")
    said = f"{held} is back from {held.lent_to}"
    return _change(held, by, "give back", said, lent_to="", back_by=None, to_wash=to_wash)


@transaction.atomic
def wash(*, vessel: Vessel, by: Person | None) -> Vessel:
    """It is clean again. Can be undone."""
    held = _hold(vessel)
    if not held.to_wash:
        raise Refusal(f"{held} is clean already.")
    return _change(held, by, "wash", f"Washed {held}", to_wash=False)


def soil(keys: Iterable[int]) -> None:
    """These were emptied and are to be washed, as part of a larger act."""
    Vessel.objects.filter(pk__in=list(keys)).update(to_wash=True, version=F("version") + 1)


def unsoil(keys: Iterable[int]) -> None:
    """The opposite of `soil`, where what emptied them is taken back."""
    Vessel.objects.filter(pk__in=list(keys)).update(to_wash=False, version=F("version") + 1)


def _hold(vessel: Vessel) -> Vessel:
    return Vessel.objects.select_for_update().get(pk=vessel.pk)


def _change(vessel: Vessel, by: Person | None, verb: str, said: str, **values) -> Vessel:
    former = {name: getattr(vessel, name) for name in values}
    if former.get("back_by"):
        former["back_by"] = former["back_by"].isoformat()
    for name, value in values.items():
        setattr(vessel, name, value)
    check_columns(vessel, ["lent_to"])
    vessel.version += 1
    vessel.save(update_fields=[*values, "version"])
    activity.record(
        by=by,
        verb=verb,
        subject=vessel,
        summary=said,
        undo="vessels.change",
        undo_data={"vessel": vessel.pk, "version": vessel.version, "former": former},
    )
    return vessel


@activity.undoes("vessels.change")
def _undo_change(data: dict, by: Person | None) -> None:
    held = Vessel.objects.select_for_update().get(pk=data["vessel"])
    if held.version != data["version"]:
        raise Refusal(f"{held} has been changed since.")
    former = dict(data["former"])
    if former.get("back_by"):
        former["back_by"] = dt.date.fromisoformat(former["back_by"])
    for name, value in former.items():
        setattr(held, name, value)
    held.version += 1
    held.save(update_fields=[*former, "version"])
