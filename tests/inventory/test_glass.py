"""Bottles go from state to state; clean ones are the ledger's, and nothing is counted twice."""

import datetime as dt

import pytest

from inventory import activity, glass, items, ledger, loans
from inventory.models import Activity, BottleType, CageType, ClosureType, GlassLine, Loan
from inventory.models.items import Kind
from inventory.refusals import Refusal
from tests.conftest import FIRST_MONDAY, PIECE

LATER = dt.date(2026, 5, 1)


def an_item(maker, name, kind):
    return items.add_item(by=maker, name=name, kind=kind, base="mpc", piece_word=kind)


@pytest.fixture
def bottle(maker):
    item = an_item(maker, "Bottle 750 mL", Kind.BOTTLE)
    ledger.receive(item=item, quantity=6 * PIECE, on=FIRST_MONDAY, by=maker)
    return item


def states(item):
    return glass.counts([item.pk])[item.pk]


def moved(item, count, source, target, maker, **more):
    return glass.move(
        item=item, count=count, source=source, target=target, on=FIRST_MONDAY, by=maker, **more
    )


def test_a_house_of_fourteen_bottles_is_counted_by_state(bottle, maker):
    moved(bottle, 5, "", "filled", maker)
    moved(bottle, 3, "", "dirty", maker)
    moved(bottle, 1, "dirty", "cracked", maker)

    assert states(bottle) == {"clean": 6, "dirty": 2, "filled": 5, "lent": 0, "cracked": 1}


def test_washing_makes_a_lot_of_clean_bottles(bottle, maker):
    moved(bottle, 2, "", "dirty", maker)

    moved(bottle, 2, "dirty", "clean", maker)

    assert (states(bottle)["clean"], states(bottle)["dirty"]) == (8, 0)
    assert sorted(lot.on_hand for lot in bottle.lots.in_stock()) == [2 * PIECE, 6 * PIECE]


def test_filling_from_two_lots_ties_each_line_to_the_ledger(bottle, maker):
    ledger.receive(item=bottle, quantity=3 * PIECE, on=FIRST_MONDAY, by=maker)

    lines = moved(bottle, 8, "clean", "filled", maker)

    assert [(line.change, line.movement.quantity) for line in lines] == [(6, -6000), (2, -2000)]
    assert (states(bottle)["clean"], states(bottle)["filled"]) == (1, 8)


def test_a_move_is_taken_back_once_with_the_ledger(bottle, maker):
    moved(bottle, 4, "clean", "filled", maker)
    done = Activity.objects.first()

    activity.undo(activity=done, by=maker)

    assert (states(bottle)["clean"], states(bottle)["filled"]) == (6, 0)
    with pytest.raises(Refusal, match="cannot be undone"):
        activity.undo(activity=done, by=maker)


def test_what_has_moved_on_is_not_taken_back(bottle, maker):
    moved(bottle, 4, "clean", "filled", maker)
    done = Activity.objects.first()
    moved(bottle, 3, "filled", "dirty", maker)

    with pytest.raises(Refusal, match="4 of Bottle 750 mL wanted, 1 are filled"):
        activity.undo(activity=done, by=maker)

    assert states(bottle)["filled"] == 1


@pytest.mark.parametrize(
    ("count", "source", "target", "words"),
    [
        (7, "clean", "filled", "7 of Bottle 750 mL wanted, 6 are clean"),
        (1, "dirty", "clean", "1 of Bottle 750 mL wanted, 0 are dirty"),
        (1, "cracked", "clean", "Bottles do not go from cracked to clean"),
        (0, "clean", "filled", "whole number of bottles"),
        (100_001, "", "dirty", "whole number of bottles"),
    ],
)
def test_a_move_that_cannot_be_is_refused_and_leaves_nothing(
    bottle, maker, count, source, target, words
):
    with pytest.raises(Refusal, match=words):
        moved(bottle, count, source, target, maker)

    assert GlassLine.objects.count() == 0


def test_lent_bottles_come_back_in_parts(bottle, maker):
    loan = loans.lend(
        item=bottle, count=4, to="Nan at Ford End", on=FIRST_MONDAY, due=LATER, by=maker
    )
    loans.give_back(loan=loan, count=3, on=LATER, by=maker)

    loan.refresh_from_db()
    assert (loan.out, states(bottle)["lent"], states(bottle)["dirty"]) == (1, 1, 3)
    with pytest.raises(Refusal, match="Nan at Ford End has 1 of them, not 2"):
        loans.give_back(loan=loan, count=2, on=LATER, by=maker)


def test_lending_and_giving_back_are_taken_back_in_turn(bottle, maker):
    loan = loans.lend(item=bottle, count=4, to="Nan", on=FIRST_MONDAY, by=maker)
    lent = Activity.objects.first()
    loans.give_back(loan=loan, count=4, on=LATER, by=maker)
    back = Activity.objects.first()

    with pytest.raises(Refusal, match="4 of them came back already"):
        activity.undo(activity=lent, by=maker)
    activity.undo(activity=back, by=maker)
    activity.undo(activity=lent, by=maker)

    assert states(bottle) == {"clean": 6, "dirty": 0, "filled": 0, "lent": 0, "cracked": 0}
    assert Loan.objects.get().out == 0


def test_lending_backwards_in_time_is_refused(bottle, maker):
    with pytest.raises(Refusal, match="before they are lent"):
        loans.lend(item=bottle, count=1, to="Nan", on=LATER, due=FIRST_MONDAY, by=maker)


def test_a_bottle_is_described_once_and_its_rating_needs_a_source(bottle, maker):
    values = {"nominal": 750_000, "brimful": 775_000, "finish": "fizz"}
    with pytest.raises(Refusal, match="Say where the rating comes from"):
        glass.describe(item=bottle, model=BottleType, by=maker, rated_mbar=6000, **values)

    glass.describe(
        item=bottle,
        model=BottleType,
        by=maker,
        rated_mbar=6000,
        rating_source="the owner's word",
        **values,
    )

    with pytest.raises(Refusal, match="already exists"):
        glass.describe(item=bottle, model=BottleType, by=maker, **values)


def test_brimful_below_nominal_is_refused(bottle, maker):
    with pytest.raises(Refusal, match="at least its nominal volume"):
        glass.describe(
            item=bottle,
            model=BottleType,
            by=maker,
            nominal=750_000,
            brimful=749_000,
            finish="fizz",
        )


def test_a_closure_fits_some_mouth_and_only_known_ones(maker):
    stopper = an_item(maker, "Stopper", Kind.CLOSURE)

    with pytest.raises(Refusal, match="at least one mouth"):
        glass.describe(item=stopper, model=ClosureType, by=maker, fits=["jar"])
    row = glass.describe(item=stopper, model=ClosureType, by=maker, fits=["fizz"])

    assert row.fitting == ["sparkling mouth, for a stopper and cage"]


def test_what_is_no_cage_is_not_described_as_one(bottle, maker):
    with pytest.raises(Refusal, match="is not a cage"):
        glass.describe(item=bottle, model=CageType, by=maker, uses=3)


def test_counts_take_two_queries(bottle, maker, django_assert_num_queries):
    moved(bottle, 3, "", "dirty", maker)

    with django_assert_num_queries(2):
        glass.counts([bottle.pk])
