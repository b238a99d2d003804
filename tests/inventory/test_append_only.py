"""A movement can be neither changed nor deleted, by the ORM or by raw SQL."""

import pytest
from django.db import DatabaseError, connection, transaction

from inventory import append_only, ledger
from inventory.models import Movement
from tests.conftest import FIRST_MONDAY, KILO


@pytest.fixture
def line(sugar, maker):
    append_only.install(connection)
    return ledger.receive(item=sugar, quantity=KILO, on=FIRST_MONDAY, by=maker).movements.get()


def by_hand(statement):
    with connection.cursor() as cursor:
        cursor.execute(statement)


ATTEMPTS = {
    "save": lambda line: line.save(),
    "update": lambda line: Movement.objects.update(quantity=1),
    "delete": lambda line: line.delete(),
    "raw update": lambda line: by_hand("UPDATE inventory_movement SET quantity = 1"),
    "raw delete": lambda line: by_hand("DELETE FROM inventory_movement"),
}


@pytest.mark.parametrize("attempt", ATTEMPTS)
def test_a_line_stays_as_it_was_written(line, attempt):
    with pytest.raises(DatabaseError, match="append-only"), transaction.atomic():
        ATTEMPTS[attempt](line)

    assert list(Movement.objects.values_list("quantity", flat=True)) == [1_000_000]


def test_the_opposite_line_is_still_written(line, maker):
    ledger.undo(movement=line, by=maker)

    assert list(Movement.objects.values_list("quantity", flat=True)) == [1_000_000, -1_000_000]


def test_the_trigger_can_be_seen_put_in_place_again_and_taken_away(line):
    append_only.install(connection)
    seen = append_only.installed(connection)
    append_only.remove(connection)

    assert (seen, append_only.installed(connection)) == (True, False)


def test_a_migration_puts_the_trigger_back(house, settings):
    settings.APPEND_ONLY_TRIGGERS = True

    append_only.after_migrate(sender=None)

    assert append_only.installed(connection)
