"""Fill a new house for the races and print what the clients need; run as a module."""

import datetime as dt
import json
import secrets
import sys
import uuid

import django

django.setup()

from django.conf import settings  # noqa: E402
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY  # noqa: E402
from django.contrib.sessions.backends.db import SessionStore  # noqa: E402
from django.db import transaction  # noqa: E402

from inventory import glass, household, ledger  # noqa: E402
from inventory.laying_down import Drink, Filling, lay_down  # noqa: E402
from inventory.models import BottleType, CageType, CellarLot, ClosureType, Item  # noqa: E402


def sign_in(person) -> str:
    session = SessionStore()
    session[SESSION_KEY] = str(person.pk)
    session[BACKEND_SESSION_KEY] = settings.AUTHENTICATION_BACKENDS[-1]
    session[HASH_SESSION_KEY] = person.get_session_auth_hash()
    session.create()
    return session.session_key


def build(lots: int, grams: int) -> dict:
    household.settle(name="Skelder Fold", time_zone="Europe/London")
    maker = household.add_person(username="maker", password=None, role="maker")
    sugar = Item.objects.create(name="White sugar", kind="ingredient", base="mg")
    received = [
        ledger.receive(item=sugar, quantity=grams * 1000, on=dt.date(2026, 4, 6), by=maker)
        for _ in range(lots)
    ]
    bottles = bottled(maker, 40)
    return {
        "bottles": bottles.pk,
        "session": sign_in(maker),
        "csrf": secrets.token_hex(16),
        "item": sugar.pk,
        "lots": [lot.pk for lot in received],
    }


def bottled(maker, count: int) -> CellarLot:
    """So many bottles with a cage and a stopper each, laid down."""
    day = dt.date(2026, 4, 6)
    kinds = {}
    for name, kind in (("Fizz 750", "bottle"), ("Stopper", "closure"), ("Cage", "cage")):
        kinds[kind] = Item.objects.create(name=name, kind=kind, base="mpc")
        ledger.receive(item=kinds[kind], quantity=count * 1000, on=day, by=maker)
    for kind, model, said in (
        ("bottle", BottleType, {"nominal": 750_000, "finish": "fizz"}),
        ("closure", ClosureType, {"fits": ["fizz"], "needs_cage": True, "uses": 3}),
        ("cage", CageType, {"uses": 3}),
    ):
        glass.describe(item=kinds[kind], model=model, by=maker, **said)
    filling = Filling(kinds["bottle"], count, 750_000, kinds["closure"], kinds["cage"])
    drink = Drink(name="Gorse fizz", origin="batch:0", bottled=day)
    with transaction.atomic():
        [lot] = lay_down(drink=drink, fillings=[filling], place=None, by=maker, act=uuid.uuid4())
    return lot


if __name__ == "__main__":
    sys.stdout.write(json.dumps(build(int(sys.argv[1]), int(sys.argv[2]))))
