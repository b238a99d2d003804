"""A small household: Skelder Fold, with sugar, yeast and lemons, two vessels, four people."""

import datetime as dt

import pytest

from inventory import household
from inventory.models import Item, Vessel

KILO = 1_000_000
LITRE = 1_000_000
PIECE = 1000
FIRST_MONDAY = dt.date(2026, 4, 6)


@pytest.fixture
def house(db, settings):
    settings.PRETEND_TODAY = FIRST_MONDAY
    return household.settle(
        name="Skelder Fold",
        time_zone="Europe/London",
        country="GB",
        latitude_thousandths=54_400,
        height_m=180,
    )


@pytest.fixture
def people(house):
    return {
        role: household.add_person(username=role, password="hedge row 12 stile", role=role)
        for role in household.ROLES
    }


@pytest.fixture
def maker(people):
    return people["maker"]


@pytest.fixture
def keeper(people):
    return people["keeper"]


@pytest.fixture
def sugar(house):
    return Item.objects.create(
        name="White sugar", kind="ingredient", base="mg", pack=KILO, safety_stock=KILO // 2,
        lead_days=7, teaspoon=4_200, density_g_per_l=850, shop="The corner shop", pack_price=115,
    )  # fmt: skip


@pytest.fixture
def yeast(house):
    return Item.objects.create(
        name="Wine yeast", kind="yeast", base="mpc", piece_word="sachet", pack=2 * PIECE,
        lead_days=7, shop="The brew cupboard", pack_price=190,
    )  # fmt: skip


@pytest.fixture
def lemons(house):
    return Item.objects.create(
        name="Lemons", kind="ingredient", base="mpc", piece_word="lemon", pack=PIECE, lead_days=7,
        shop="The corner shop",
    )  # fmt: skip


@pytest.fixture
def bucket(house):
    return Vessel.objects.create(name="Large bucket", kind="open", brimful=27_300_000)


@pytest.fixture
def jar(house):
    return Vessel.objects.create(name="Jar 1", kind="closed", brimful=4_750_000)
