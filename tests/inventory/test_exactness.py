"""Quantities are whole thousandths: nothing is refused for a rounding, and nothing is left over."""

import pytest

from inventory import ledger
from inventory.models import Lot, Movement
from tests.conftest import FIRST_MONDAY

pytestmark = pytest.mark.unit

# 0.1 + 0.2 kg and what else has no exact binary fraction; in mg.
PARTS = (100_000, 200_001)


def test_four_hundred_lots_are_emptied_in_parts_without_a_refusal_or_a_rest(sugar, maker):
    lots = Lot.objects.bulk_create(
        Lot(item=sugar, mark=f"WS-{n:04}", received=FIRST_MONDAY) for n in range(400)
    )
    Movement.objects.bulk_create(
        Movement(lot=lot, quantity=sum(PARTS), kind="receive", day=FIRST_MONDAY) for lot in lots
    )

    Movement.objects.bulk_create(
        Movement(lot=lot, quantity=-PARTS[0], kind="issue", day=FIRST_MONDAY) for lot in lots
    )

    for lot in lots:
        ledger.issue(lot=lot, quantity=PARTS[1], on=FIRST_MONDAY, by=maker)

    assert not Lot.objects.in_stock().exists()
    assert set(Lot.objects.with_on_hand().values_list("on_hand", flat=True)) == {0}


def test_the_sum_of_two_hundred_thousand_lines_is_exact(sugar):
    lot = Lot.objects.create(item=sugar, mark="WS-1", received=FIRST_MONDAY)
    Movement.objects.bulk_create(
        (
            Movement(lot=lot, quantity=100_003, kind="receive", day=FIRST_MONDAY)
            for _ in range(200_000)
        ),
        batch_size=5000,
    )

    assert ledger.on_hand(lot) == 20_000_600_000
