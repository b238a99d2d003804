"""The house itself: its one row, its clock, its people and what each may do."""

import datetime as dt
import re
import zoneinfo
from collections.abc import Callable

from django.contrib.auth.models import Group
from django.contrib.auth.tokens import PasswordResetTokenGenerator
from django.contrib.sessions.models import Session
from django.db import models, transaction
from django.urls import reverse
from django.utils import timezone
from django.utils.encoding import force_bytes
from django.utils.http import base36_to_int, urlsafe_base64_encode

from inventory import activity, editing
from inventory.models import Household, Person
from inventory.refusals import Refusal

ROLES = ("guest", "picker", "maker", "keeper")
INVITATION_LASTS = dt.timedelta(hours=24)

Ending = Callable[[Person], None]
ENDINGS: list[Ending] = []


def when_access_ends(function: Ending) -> Ending:
    """Have `function(person)` called inside the change that lowers a role or shuts a person out."""
    ENDINGS.append(function)
    return function


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


def check_country(code: str) -> str:
    if not re.fullmatch("[A-Z]{2}", code.upper()):
        raise Refusal(
            f"Country {code!r} is not known; write its two letters, such as GB.", field="country"
        )
    return code.upper()


@transaction.atomic
def settle(*, name: str, time_zone: str, by: Person | None = None, **details) -> Household:
    """Make or change the one house; atomic, leaves an activity."""
    values = {"name": name, "time_zone": check_time_zone(time_zone), **details}
    house, made = Household.objects.update_or_create(pk=1, defaults=values)
    activity.record(
        by=by, verb="settle", subject=house, summary=f"{'Set up' if made else 'Changed'} {house}"
    )
    return house


def change(house: Household, *, version: int, values: dict, by: Person | None) -> Household:
    """Change the house's settings; atomic, refused when somebody else saved meanwhile."""
    checked = {
        "time_zone": check_time_zone(values["time_zone"]),
        "country": check_country(values["country"]),
    }
    return editing.save_edit(
        house, version=version, values=values | checked, by=by, summary="Changed the house"
    )


def people() -> models.QuerySet[Person]:
    """Everybody, each with the role on them."""
    return Person.objects.annotate(role=models.Max("groups__name")).order_by("username")


def check_username(name: str) -> str:
    if not re.fullmatch(r"[\w.@+-]{1,150}", name):
        raise Refusal(
            f"{name[:40]!r} cannot be signed in with: letters, digits and . @ + - _ only, no spaces.",
            field="username",
        )
    return name


def check_role(role: str) -> str:
    if role not in ROLES:
        raise Refusal(f"Role {role!r} is not known; it is one of {', '.join(ROLES)}.", field="role")
    return role


@transaction.atomic
def add_person(
    *, username: str, password: str | None, role: str, by: Person | None = None, **details
) -> Person:
    """A new person with exactly one role; without a password nobody can sign in as them."""
    check_role(role)
    check_username(username)
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


def keepers() -> models.QuerySet[Person]:
    """Those who can sign in and change the household."""
    return Person.objects.filter(is_active=True, groups__name="keeper")


@transaction.atomic
def change_access(*, person: Person, role: str, active: bool, by: Person | None) -> Person:
    """Give another role, shut out or let in again; atomic, and one keeper always remains.

    A lower role or a shut door ends what was handed out before: private calendar addresses,
    and for a shut door every session.
    """
    # Everybody is locked, so that two keepers cannot shut each other out at the same moment.
    held = {one.pk: one for one in Person.objects.select_for_update().order_by("pk")}[person.pk]
    before, was_active = role_of(held), held.is_active
    check_role(role)
    if before == "keeper" and (role != "keeper" or not active):
        _keep_another_keeper(held)
    give_role(person=held, role=role)
    held.is_active = active
    held.save(update_fields=["is_active"])
    if before and (not active or ROLES.index(role) < ROLES.index(before)):
        _end_access(held)
    activity.record(
        by=by, verb="edit", subject=held, summary=_access_words(held, role, was_active, active)
    )
    return held


def _keep_another_keeper(person: Person) -> None:
    if not keepers().exclude(pk=person.pk).exists():
        raise Refusal(
            f"{person} is the only keeper who can sign in. Make somebody else a keeper first.",
            field="role",
        )


def _access_words(person: Person, role: str, was_active: bool, active: bool) -> str:
    if was_active and not active:
        return f"{person} can no longer sign in"
    if active and not was_active:
        return f"{person} may sign in again, as {role}"
    return f"{person} is now {role}"


def _end_access(person: Person) -> None:
    if not person.is_active:
        end_sessions(person)
    for ending in ENDINGS:
        ending(person)


def end_sessions(person: Person) -> None:
    """Sign the person out everywhere; a cookie kept from before opens nothing later either."""
    theirs = [
        session.pk
        for session in Session.objects.iterator()
        if session.get_decoded().get("_auth_user_id") == str(person.pk)
    ]
    Session.objects.filter(pk__in=theirs).delete()


@transaction.atomic
def set_password(*, person: Person, password: str) -> None:
    """A new password; every session of the old one ends."""
    person.set_password(password)
    person.save(update_fields=["password"])
    activity.record(by=person, verb="edit", subject=person, summary=f"{person} set a password")


@transaction.atomic
def set_preferences(*, person: Person, name: str, units: str, theme: str) -> Person:
    """How a person is called and likes their figures."""
    person.first_name, person.last_name = name, ""
    person.units, person.theme = units, theme
    person.save(update_fields=["first_name", "last_name", "units", "theme"])
    activity.record(
        by=person, verb="edit", subject=person, summary=f"{person} changed their preferences"
    )
    return person


class InvitationTokens(PasswordResetTokenGenerator):
    """One-time links: dead once a password is set, after 24 hours, or while shut out."""

    key_salt = "inventory.household.InvitationTokens"

    def check_token(self, user, token):
        if not (user and user.is_active and super().check_token(user, token)):
            return False
        age = self._num_seconds(self._now()) - base36_to_int(token.split("-")[0])
        # A link from the future was made before the clock was put back: it counts as worn out.
        return 0 <= age <= INVITATION_LASTS.total_seconds()


invitations = InvitationTokens()


def invite(*, person: Person, by: Person | None) -> str:
    """The path of a link with which the person sets a password, once, within 24 hours."""
    if not person.is_active:
        raise Refusal(f"{person} cannot sign in; let them in again first.")
    uid = urlsafe_base64_encode(force_bytes(person.pk))
    activity.record(by=by, verb="invite", subject=person, summary=f"A sign-in link for {person}")
    return reverse("inventory:password-set", args=[uid, invitations.make_token(person)])
