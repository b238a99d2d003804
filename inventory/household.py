"""The house itself: its one row, its clock, its people and what each may do."""

import zoneinfo

from django.contrib.auth.models import Group
from django.db import transaction
from django.utils import timezone

from inventory import activity
from inventory.models import Household, Person
from inventory.refusals import Refusal

ROLES = ("guest", "picker", "maker", "keeper")


def current() -> Household:
    """The house of this installation, or an unsaved one that says it has no name yet."""
    return Household.objects.filter(pk=1).first() or Household(pk=1, name="A house without a name")


def activate_clock() -> Household:
    """Put the house's time zone in force for this thread and return the house."""
    house = current()
    timezone.activate(zoneinfo.ZoneInfo(house.time_zone))
    return house


def check_time_zone(name: str) -> str:
    if name not in zoneinfo.available_timezones():
        raise Refusal(
            f"Time zone {name!r} is not known; write one such as Europe/London.", field="time_zone"
        )
    return name


@transaction.atomic
def settle(*, name: str, time_zone: str, by: Person | None = None, **details) -> Household:
    """Make or change the one house; atomic, leaves an activity."""
    values = {"name": name, "time_zone": check_time_zone(time_zone), **details}
    house, made = Household.objects.update_or_create(pk=1, defaults=values)
    activity.record(
        by=by, verb="settle", subject=house, summary=f"{'Set up' if made else 'Changed'} {house}"
    )
    return house


@transaction.atomic
def add_person(
    *, username: str, password: str | None, role: str, by: Person | None = None, **details
) -> Person:
    """A new person with exactly one role; without a password nobody can sign in as them."""
    if role not in ROLES:
        raise Refusal(f"Role {role!r} is not known; it is one of {', '.join(ROLES)}.", field="role")
    if Person.objects.filter(username__iexact=username).exists():
        raise Refusal(f"{username!r} is taken; choose another name.", field="username")
    person = Person.objects.create_user(username=username, password=password, **details)
    give_role(person=person, role=role)
    activity.record(by=by, verb="add", subject=person, summary=f"{person} came in as {role}")
    return person


def give_role(*, person: Person, role: str) -> None:
    groups = [Group.objects.get_or_create(name=name)[0] for name in ROLES]
    person.groups.set([groups[ROLES.index(role)]])


def role_of(person) -> str | None:
    """The highest role a person has, or None; asked once per request."""
    if not person.is_authenticated or not person.is_active:
        return None
    if not hasattr(person, "_role"):
        names = set(person.groups.values_list("name", flat=True))
        person._role = next((role for role in reversed(ROLES) if role in names), None)
    return person._role
