"""Fill a new house for the races and print what the clients need; run as a module."""

import datetime as dt
import json
import secrets
import sys

import django

django.setup()

from django.conf import settings  # noqa: E402
from django.contrib.auth import BACKEND_SESSION_KEY, HASH_SESSION_KEY, SESSION_KEY  # noqa: E402
from django.contrib.sessions.backends.db import SessionStore  # noqa: E402

from inventory import household, ledger  # noqa: E402
from inventory.models import Item  # noqa: E402


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
    return {
        "session": sign_in(maker),
        "csrf": secrets.token_hex(16),
        "item": sugar.pk,
        "lots": [lot.pk for lot in received],
    }


if __name__ == "__main__":
    sys.stdout.write(json.dumps(build(int(sys.argv[1]), int(sys.argv[2]))))
