"""A house in which everything has been done once."""

import datetime as dt

import pytest

from inventory import glass, items, ledger, loans, receipts, requirements, reservations
from tests.conftest import FIRST_MONDAY, KILO, PIECE

MAY = dt.date(2026, 5, 4)


@pytest.fixture
def lived_in(sugar, lemons, yeast, maker):
    lot = ledger.receive(item=sugar, quantity=3 * KILO, on=FIRST_MONDAY, by=maker)
    peel = ledger.receive(item=lemons, quantity=4 * PIECE, on=FIRST_MONDAY, by=maker)
    needs = [
        requirements.need(item=item, quantity=quantity, day=MAY, label=label, by=maker)
        for item, quantity, label in [
            (sugar, KILO, "Gorse"),
            (sugar, KILO, "Rhubarb"),
            (lemons, 2 * PIECE, "Meadowsweet"),
        ]
    ]
    used = ledger.issue(lot=lot, quantity=1000, on=FIRST_MONDAY, by=maker)
    ledger.undo(movement=used, by=maker)
    ledger.count(lot=peel, counted=3 * PIECE, on=FIRST_MONDAY, by=maker)
    ledger.throw_out(lot=peel, quantity=PIECE, on=FIRST_MONDAY, by=maker, reason="mould")
    reservations.reserve(lot=lot, requirement=needs[1], quantity=KILO, by=maker)
    reservations.consume(requirement=needs[0], by=maker, on=FIRST_MONDAY)
    parcel = receipts.expect(item=yeast, quantity=4 * PIECE, due=MAY, by=maker)
    receipts.arrive(receipt=parcel, quantity=PIECE, on=MAY, by=maker)
    receipts.arrive(receipt=parcel, quantity=3 * PIECE, on=MAY, by=maker)
    receipts.expect(item=yeast, quantity=PIECE, due=MAY, by=maker)
    bottle = items.add_item(by=maker, name="Bottle 750 mL", kind="bottle", base="mpc")
    ledger.receive(item=bottle, quantity=6 * PIECE, on=FIRST_MONDAY, by=maker)
    move = {"item": bottle, "on": FIRST_MONDAY, "by": maker}
    glass.move(count=4, source="clean", target="filled", **move)
    glass.move(count=3, source="filled", target="dirty", **move)
    glass.move(count=2, source="dirty", target="clean", **move)
    loans.lend(count=2, to="Nan", **move)
