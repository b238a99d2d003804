"""Somebody who keeps the store, and the shelf the tests start from."""

import datetime as dt

import pytest

from inventory import ledger
from inventory.models import StoragePlace

APRIL_6 = dt.date(2026, 4, 6)


@pytest.fixture
def makers_client(client, maker):
    client.force_login(maker)
    return client


@pytest.fixture
def guests_client(client, people):
    client.force_login(people["guest"])
    return client


@pytest.fixture
def pantry(house):
    return StoragePlace.objects.create(name="Pantry")


@pytest.fixture
def sugar_lot(sugar, maker, pantry):
    return ledger.receive(item=sugar, quantity=3_000_000, on=APRIL_6, by=maker, place=pantry)
