"""The audit finds nothing in a house that lived, and names every row that somebody broke."""

import datetime as dt

import pytest
from django.core.management import CommandError, call_command

from inventory import audit
from inventory.models import (
    Activity,
    GlassLine,
    Item,
    Loan,
    Lot,
    Movement,
    Receipt,
    Requirement,
    Reservation,
)
from tests.conftest import KILO

MAY = dt.date(2026, 5, 4)


def findings():
    return {(found.rule, found.row) for found in audit.findings()}


def test_nothing_is_found_in_a_house_that_lived(lived_in, capsys):
    call_command("audit")

    assert list(audit.findings()) == []
    assert "rules hold" in capsys.readouterr().out


def first(table, **values):
    return table.objects.filter(**values).order_by("pk").first()


def overdraw():
    lot = first(Lot)
    line = Movement.objects.create(lot=lot, quantity=-9 * KILO, kind="issue", day=MAY)
    Movement.objects.create(lot=lot, quantity=9 * KILO, kind="adjust", day=MAY)
    return f"movement {line.pk}"


def lot_from_nowhere():
    Lot.objects.create(item=first(Item), mark="WS-0099", received=MAY)
    return "lot WS-0099"


def change(table, values, **which):
    row = first(table, **which)
    table.objects.filter(pk=row.pk).update(**values)
    return f"{table._meta.verbose_name} {row.pk}"


def unequal_undo():
    return change(Movement, {"quantity": 999}, kind="undo")


def undo_of_nothing():
    return change(Movement, {"undoes": None}, kind="undo")


def undo_under_another_name():
    return change(Movement, {"kind": "adjust"}, kind="undo")


def used_for_another_item():
    need = first(Requirement, label="Meadowsweet")
    return change(Movement, {"requirement": need}, requirement__label="Gorse")


def promised_beyond_the_lot():
    change(Reservation, {"quantity": 5 * KILO}, by_hand=True)
    return "lot WS-0001"


def promised_beyond_the_need():
    return change(Requirement, {"quantity": 1}, label="Rhubarb")


def promised_to_nobody():
    row = first(Reservation, requirement__label="Rhubarb")
    change(Requirement, {"state": "withdrawn"}, label="Rhubarb")
    return f"reservation {row.pk}"


def promised_of_another_item():
    return change(Reservation, {"lot": first(Lot, mark="WY-0001")}, by_hand=True)


def met_by_nothing():
    return change(Requirement, {"state": "met"}, label="Meadowsweet")


def arrived_nowhere():
    return change(Receipt, {"lot": None}, state="arrived")


def arrived_as_something_else():
    return change(Receipt, {"lot": first(Lot, mark="WS-0001")}, state="arrived")


def expected_though_here():
    return change(Receipt, {"lot": first(Lot, mark="WY-0001")}, state="expected")


def undone_before_it_was_done():
    return change(Activity, {"undone_by": first(Activity)}, verb="count")


def undone_by_nothing_known():
    return change(Activity, {"undo": "ledger.forget"}, verb="count")


def a_word_nobody_knows():
    return change(Item, {"kind": "tank"}, name="Lemons")


def more_emptied_than_were_filled():
    return change(GlassLine, {"change": -9}, state="filled", change__lt=0)


def washed_more_than_the_ledger_says():
    return change(GlassLine, {"change": -1}, state="dirty", change__lt=0)


def more_on_loan_than_lent():
    change(Loan, {"count": 9}, to="Nan")
    return f"item {first(Item, name='Bottle 750 mL').pk}"


RULES = {
    more_emptied_than_were_filled: "no state of a bottle was ever counted below zero",
    washed_more_than_the_ledger_says: "what became clean or was clean is in the ledger too, as many of the same kind",
    more_on_loan_than_lent: "bottles that are lent are those on loan",
    overdraw: "no lot ever held less than nothing",
    lot_from_nowhere: "a lot begins with what was received",
    unequal_undo: "what takes a line back is its exact opposite, once",
    undo_of_nothing: "what takes a line back is its exact opposite, once",
    undo_under_another_name: "what takes a line back is its exact opposite, once",
    used_for_another_item: "what was used for a need is what it asks for",
    promised_beyond_the_lot: "no lot is promised beyond what it holds",
    promised_beyond_the_need: "only an open need holds a promise, no more than it asks for, of its own item",
    promised_to_nobody: "only an open need holds a promise, no more than it asks for, of its own item",
    promised_of_another_item: "only an open need holds a promise, no more than it asks for, of its own item",
    met_by_nothing: "a met need shows what was used for it",
    arrived_nowhere: "what arrived is a lot of its item, what did not is none",
    arrived_as_something_else: "what arrived is a lot of its item, what did not is none",
    expected_though_here: "what arrived is a lot of its item, what did not is none",
    undone_before_it_was_done: "what was undone was undone later, and what can be undone has its opposite",
    undone_by_nothing_known: "what was undone was undone later, and what can be undone has its opposite",
    a_word_nobody_knows: "every word is one of its list",
}


@pytest.mark.parametrize("broken", RULES, ids=lambda broken: broken.__name__)
def test_a_broken_row_is_named_with_the_rule_it_breaks(lived_in, broken):
    row = broken()

    assert (RULES[broken], row) in findings()


def test_somebody_without_a_role_or_with_two_is_named(lived_in, people):
    people["guest"].groups.clear()
    people["picker"].groups.add(*people["maker"].groups.all())

    rule = "everybody who may sign in has exactly one role"
    assert findings() == {(rule, "person guest"), (rule, "person picker")}


def test_a_clock_that_stepped_back_is_noted_and_breaks_nothing(lived_in, capsys):
    last = Movement.objects.get(kind="count")
    before = last.recorded_at - dt.timedelta(days=3)
    Movement.objects.filter(pk=last.pk).update(recorded_at=before)

    call_command("audit")

    assert f"note: the clock did not step back: movement {last.pk}" in capsys.readouterr().out


def test_the_command_ends_with_one_and_names_the_row(lived_in, capsys):
    row = overdraw()

    with pytest.raises(CommandError, match="1 rows break a rule") as ended:
        call_command("audit")

    assert ended.value.returncode == 1
    assert f"BROKEN: no lot ever held less than nothing: {row}" in capsys.readouterr().out
