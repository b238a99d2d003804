"""The audit sees a database that no longer refuses what it should, and rows that came through."""

import pytest
from django.db import connection

from inventory import append_only, audit
from inventory.models import Item, Movement


def findings():
    return {(found.rule, found.row) for found in audit.findings()}


def test_a_row_that_points_at_nothing_is_named(lived_in):
    line = Movement.objects.order_by("pk").first()
    Movement.objects.filter(pk=line.pk).update(by_id=999_999)

    found = findings()

    Movement.objects.filter(pk=line.pk).update(by_id=line.by_id)
    assert ("every row that another points at is there", f"movement {line.pk}") in found


def test_a_value_out_of_range_is_named(lived_in, sugar):
    loosen("inventory_item_pack_amount")
    Item.objects.filter(pk=sugar.pk).update(pack=0)
    tighten()

    found = findings()

    assert ("every value lies within its range", f"item {sugar.pk}") in found


def loosen(constraint):
    """Let one row through that the database would refuse."""
    with connection.cursor() as cursor:
        if connection.vendor == "sqlite":
            cursor.execute("PRAGMA ignore_check_constraints = ON")
        else:
            cursor.execute(f"ALTER TABLE inventory_item DROP CONSTRAINT {constraint}")


def tighten():
    if connection.vendor == "sqlite":
        with connection.cursor() as cursor:
            cursor.execute("PRAGMA ignore_check_constraints = OFF")


@pytest.mark.skipif(connection.vendor != "sqlite", reason="asks SQLite about its own file")
def test_a_file_that_is_not_whole_is_named(lived_in, sugar):
    loosen("inventory_item_pack_amount")
    Item.objects.filter(pk=sugar.pk).update(pack=0)
    tighten()

    assert "the database file is whole" in {rule for rule, _ in findings()}


def test_a_table_that_lost_a_check_is_named(lived_in):
    lose_check("inventory_movement_sign")

    assert (
        "the database itself refuses what breaks a rule",
        "inventory_movement",
    ) in findings()


def lose_check(name):
    with connection.cursor() as cursor:
        if connection.vendor != "sqlite":
            cursor.execute("SET CONSTRAINTS ALL IMMEDIATE")
            cursor.execute(f"ALTER TABLE inventory_movement DROP CONSTRAINT {name}")
            return
        cursor.execute("PRAGMA writable_schema = ON")
        cursor.execute(
            "UPDATE sqlite_master SET sql = replace(sql, %s, 'other') WHERE name = %s",
            [name, "inventory_movement"],
        )
        cursor.execute("PRAGMA writable_schema = OFF")


def test_a_ledger_without_its_trigger_is_named(lived_in, settings):
    settings.APPEND_ONLY_TRIGGERS = True
    without = findings()
    append_only.install(connection)

    assert without == {("the ledger can be neither changed nor deleted", append_only.TABLE)}
    assert findings() == set()
