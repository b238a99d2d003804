"""Every page of the demo house that somebody can open, under the name of its address.

A new address needs nothing here unless its path has a key that nothing in KEYS fits: then say which
thing of the demo house its page is about. Run as a module it builds that house and prints its pages.
"""

import io
import json
import sys
from collections.abc import Callable

import django
from django.apps import apps

if not apps.ready:
    django.setup()

from django.conf import settings
from django.core.management import call_command
from django.urls import reverse
from PIL import Image

from inventory import clock, household, loans, photos, requirements
from inventory.models import (
    CellarLot,
    Household,
    Item,
    Lot,
    Person,
    Receipt,
    StoragePlace,
    Vessel,
)
from planner import demo
from planner.models import Batch, Patch, Pick, Reading, Recipe, Step, WeatherFile
from tests.access_table import ADDRESSES, PUBLIC
from tests.race.scene import sign_in
from tests.test_access import FOUND

# Files for a calendar, an answer for machines, and what answers only to a form.
NO_PAGES = {
    "inventory:everything",
    "inventory:health",
    "inventory:photo",
    "inventory:sign-out",
    "planner:batch-calendar",
    "planner:feed",
    "planner:schedule",
}
SIGNED_OUT = [name for name, row in ADDRESSES.items() if row == PUBLIC and name not in NO_PAGES]
SIGNED_IN = [
    name
    for name, row in ADDRESSES.items()
    if row != PUBLIC and row[0] is not None and name not in NO_PAGES
]
# Pages that look otherwise than by their plain address.
ALSO: dict[str, str] = {
    "every plant drawn": "/season/?all=1",
    "a day to come": "/calendar/day-sheet/?day=19+Sep+2026",
    "a list of nothing": "/store/?q=nothing+of+that+name",
    "a list that cannot be narrowed so": "/receipts/?q=" + "x" * 101,
    "a list by the largest first": "/lots/?sort=-on_hand",
    "a sum with its answer": (
        "/bench/priming/?volumes=3&warmest_c=18+C&abv=11.3&volume=9.05&sizes=750,+500,+330"
    ),
    "a sum that cannot be": "/bench/strength/?start=1.080&finish=9",
    "a plant with its own record": "/plants/meadowsweet/",
    "a must that fits": "/vessels/fit/?mash=20.4+L&pressed=18+L&loss=6",
    "a must that does not fit": "/vessels/fit/?mash=90+L&pressed=80+L",
    "nothing at this address": "/nowhere/",
}


def a_lot() -> dict:
    return {"pk": Lot.objects.in_stock().filter(item__name="White sugar").order_by("pk")[0].pk}


def a_loan() -> dict:
    maker = Person.objects.get(groups__name="maker")
    bottle = Item.objects.get(name="Bottle 750 mL")
    lent = loans.lend(item=bottle, count=2, to="Nan at Ford End", on=clock.today(), by=maker)
    return {"pk": lent.pk}


def a_need() -> dict:
    sugar = Item.objects.get(name="White sugar")
    maker = Person.objects.get(groups__name="maker")
    day = clock.today()
    return {"pk": requirements.need(item=sugar, quantity=1000, day=day, label="jam", by=maker).pk}


def an_open_step() -> dict:
    return {"pk": Step.objects.filter(state="to_do").order_by("day", "pk")[0].pk}


def an_invitation() -> dict:
    path = household.invite(person=Person.objects.get(username="guest"), by=None)
    *_, uidb64, token, _ = path.split("/")
    return {"uidb64": uidb64, "token": token}


def a_version() -> dict:
    return {"pk": Recipe.objects.get(name="Damson wine").pk, "number": 1}


def latest(model) -> Callable[[], dict]:
    return lambda: {"pk": model.objects.latest("pk").pk}


# By the beginning of the address's name; the longest that fits is taken.
KEYS: dict[str, Callable[[], dict]] = {
    "inventory:glass-": lambda: {"pk": Item.objects.get(name="Fizz bottle 750 mL").pk},
    "inventory:invitation": latest(Person),
    "inventory:item-": lambda: {"pk": Item.objects.get(name="White sugar").pk},
    "inventory:loan-": a_loan,
    "inventory:lot-": a_lot,
    "inventory:password-set": an_invitation,
    "inventory:person-": latest(Person),
    "inventory:place-": latest(StoragePlace),
    "inventory:receipt-": lambda: {"pk": Receipt.objects.filter(state="expected")[0].pk},
    "inventory:requirement-": a_need,
    "inventory:vessel-": latest(Vessel),
    "inventory:substitute-": lambda: {"pk": Item.objects.get(name="White sugar").pk},
    "planner:cellar-": latest(CellarLot),
    "planner:vessel-weigh": latest(Vessel),
    "planner:composition": lambda: {"pk": Item.objects.get(name="Damsons").pk},
    "planner:batch-book": lambda: {"pk": Batch.objects.filter(name__startswith="Rhubarb")[0].pk},
    "planner:bench-sum": lambda: {"slug": "priming"},
    "planner:batch-": lambda: {"pk": Batch.objects.filter(name__startswith="Damson")[0].pk},
    "planner:reading-": latest(Reading),
    "planner:weather-file": latest(WeatherFile),
    "planner:patch-": latest(Patch),
    "planner:pick-": latest(Pick),
    "planner:lot-trace": a_lot,
    "planner:pick-in-hand": lambda: {
        "pk": Lot.objects.in_stock().filter(item__name="Bramble")[0].pk
    },
    "planner:plant-": lambda: {"slug": "elderberry"},
    "planner:recipe-": lambda: {"pk": a_version()["pk"]},
    "planner:recipe-version": a_version,
    "planner:step-": an_open_step,
    "planner:version-add": lambda: {"pk": a_version()["pk"]},
}


def take_a_picture() -> None:
    """Of the sugar, so that a page of a lot shows one."""
    drawn = io.BytesIO()
    Image.linear_gradient("L").resize((1200, 800)).save(drawn, "JPEG")
    photos.keep(data=drawn.getvalue(), of=Lot.objects.get(**a_lot()), words="White sugar", by=None)


def address_of(name: str) -> str:
    if not FOUND[name].pattern.converters:
        return reverse(name)
    begins = [start for start in KEYS if name.startswith(start)]
    assert begins, f"{name}: add to KEYS in tests/browser/demo_pages.py what its page is about"
    return reverse(name, kwargs=KEYS[max(begins, key=len)]())


def bottling_day(recipe: str, wish: str) -> Callable[[], str]:
    """The address of a plan for the batch of a recipe, to lie in the sun room."""

    def address() -> str:
        batch = Batch.objects.filter(name__startswith=recipe)[0]
        room = StoragePlace.objects.get(name="Sun room")
        return f"/batches/{batch.pk}/bottle/?{wish}&place={room.pk}"

    return address


OF_FIZZ = "closing=fizz&volumes=3&warmest_c=18+C&abv=11.3&aim=nothing_left&hose=100+mL"
# Pages whose address has a key of the demo house in it.
KEYED = {
    "bottling day of a fizz": bottling_day("Meadowsweet", OF_FIZZ),
    "bottling day of a still wine": bottling_day("Damson", "closing=still&aim=biggest"),
}


def build() -> dict:
    """A new demo house with the living page open: who is signed in, and where its pages are."""
    call_command("migrate", verbosity=0)
    people = demo.build(today=settings.PRETEND_TODAY)
    Household.objects.update(living_page=True)
    take_a_picture()
    return {
        "sessions": {role: sign_in(person) for role, person in people.items()},
        "addresses": {name: address_of(name) for name in [*SIGNED_IN, *SIGNED_OUT]}
        | ALSO
        | {name: address() for name, address in KEYED.items()},
    }


if __name__ == "__main__":
    sys.stdout.write(json.dumps(build()))
