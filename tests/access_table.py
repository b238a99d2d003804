"""Who may read and write at each address of the site: the one table the access walker reads.

A new address needs one row in ADDRESSES: the lowest role that may read and the lowest that may
write, or PUBLIC. If it is about one thing (its path has a key), add how to make such a thing to
THINGS, under the beginning of its name; the thing is made anew for each address.
"""

from collections.abc import Callable

from inventory import activity, household
from inventory.models import Person, StoragePlace, Vessel

PUBLIC = "public"
NOBODY = None

ADDRESSES = {
    # signing in
    "inventory:sign-in": PUBLIC,
    "inventory:sign-out": PUBLIC,
    "inventory:password-set": PUBLIC,
    "inventory:health": PUBLIC,
    # household/
    "inventory:household": ("picker", NOBODY),
    "inventory:household-edit": ("keeper", "keeper"),
    "inventory:person-add": ("keeper", "keeper"),
    "inventory:person-edit": ("keeper", "keeper"),
    "inventory:invitation": ("keeper", "keeper"),
    "inventory:activity-list": ("picker", NOBODY),
    "inventory:activity-undo": (NOBODY, "maker"),
    # me/
    "inventory:preferences": ("guest", "guest"),
    "inventory:password-change": ("guest", "guest"),
    # places/, vessels/ and the cellar
    "inventory:cellar": ("guest", NOBODY),
    "inventory:place-list": ("guest", NOBODY),
    "inventory:place-add": ("maker", "maker"),
    "inventory:place-edit": ("maker", "maker"),
    "inventory:vessel-list": ("guest", NOBODY),
    "inventory:vessel-add": ("maker", "maker"),
    "inventory:vessel-edit": ("maker", "maker"),
}


def a_person() -> dict:
    return {"pk": household.add_person(username="ruth", password=None, role="guest").pk}


def an_activity() -> dict:
    done = activity.record(
        by=None, verb="add", subject=Person.objects.first(), summary="Something was done"
    )
    return {"pk": done.pk}


def a_place() -> dict:
    return {"pk": StoragePlace.objects.create(name="Top shelf").pk}


def a_vessel() -> dict:
    return {"pk": Vessel.objects.create(name="Jar 9", kind="closed", brimful=4_750_000).pk}


# By the beginning of the address's name; the longest that fits is taken.
THINGS: dict[str, Callable[[], dict]] = {
    "inventory:activity-": an_activity,
    "inventory:invitation": a_person,
    "inventory:password-set": lambda: {"uidb64": "MQ", "token": "made-up"},
    "inventory:person-": a_person,
    "inventory:place-": a_place,
    "inventory:vessel-": a_vessel,
}
