"""How much do the shortfalls of a whole house cost beyond reading their rows in order?

Run from the top of the project: python -m tests.bench.bench_shortfalls
Floor: the driver's bare ordered fetch of the same rows, from the same file. It is taken in two ways: all
rows by one statement in the order in which they are netted, and, cheaper because nothing is merged, lots,
receipts and needs by a statement each. Goal: at most 2.0 times the first.
"""

import functools
import random
import time

from tests.bench.own_house import bare_connection  # isort: skip

import datetime as dt

from django.db import connection

from inventory import append_only
from inventory.events import Store
from inventory.models import Item, Lot, Movement, Receipt, Requirement
from inventory.shortfalls import shortfalls
from tests.bench import pairs

# Everything is read from memory: nothing waits.
pair = functools.partial(pairs.pair, clock=time.process_time)
TODAY = dt.date(2026, 4, 6)
NEEDS = "SELECT item_id, day, 2, id, quantity, NULL FROM inventory_requirement WHERE state = 'open'"
RECEIPTS = (
    "SELECT item_id, due, 1, id, quantity, NULL FROM inventory_receipt WHERE state = 'expected'"
)
LOTS = (
    "SELECT lot.item_id, '', 0, lot.id, sum(line.quantity), lot.use_by FROM inventory_lot lot"
    " JOIN inventory_movement line ON line.lot_id = lot.id GROUP BY lot.id"
)
IN_ORDER = f"{NEEDS} UNION ALL {RECEIPTS} UNION ALL {LOTS} ORDER BY 1, 2, 3, 4"
APART = [f"{NEEDS} ORDER BY 1, 2, 4", f"{RECEIPTS} ORDER BY 1, 2, 4", f"{LOTS} ORDER BY 1, 4"]


def fill(chance: random.Random, items: int, events: int, *, scarce: float) -> None:
    """Each item has six lots of two lines, four receipts and, to make up the events, needs."""
    append_only.remove(connection)
    for table in (Movement, Receipt, Requirement, Lot, Item):
        table.objects.all()._raw_delete("default")
    Item.objects.bulk_create(
        Item(name=f"Herb {n}", kind="foraged", base="mg", pack=1000, safety_stock=100, lead_days=7)
        for n in range(items)
    )
    for item in Item.objects.order_by("pk").iterator():
        fill_item(chance, item, events, scarce)


def fill_item(chance: random.Random, item: Item, events: int, scarce: float) -> None:
    supply = [chance.randrange(500, 1500) for _ in range(10)]
    mean = int(sum(supply) * scarce / (events - 10))
    lots = Lot.objects.bulk_create(
        Lot(item=item, mark=f"{item.pk}-{n}", received=TODAY, use_by=use_by(chance))
        for n in range(6)
    )
    Movement.objects.bulk_create(
        Movement(lot=lot, quantity=quantity, kind=kind, day=TODAY)
        for lot, held in zip(lots, supply, strict=False)
        for quantity, kind in ((held + 100, "receive"), (-100, "issue"))
    )
    Receipt.objects.bulk_create(
        Receipt(item=item, due=day(chance), quantity=quantity) for quantity in supply[6:]
    )
    Requirement.objects.bulk_create(
        Requirement(
            item=item,
            day=day(chance),
            quantity=chance.randrange(1, 2 * mean),
            label=f"Batch {chance.randrange(300)}: must",
            link="/batches/1/#step-1",
            origin=f"batch:{chance.randrange(300)}",
        )
        for _ in range(events - 10)
    )


def day(chance: random.Random) -> dt.date:
    return TODAY + dt.timedelta(days=chance.randrange(365))


def use_by(chance: random.Random) -> dt.date | None:
    days = chance.randrange(30, 700)
    return TODAY + dt.timedelta(days=days) if chance.random() < 2 / 3 else None


def measure(items: int, *, scarce: float) -> None:
    fill(random.Random(20260406), items, 50, scarce=scarce)
    driver = bare_connection()

    def fetch(*statements: str) -> int:
        return sum(1 for statement in statements for _row in driver.execute(statement))

    def candidate() -> int:
        return len(shortfalls(today=TODAY))

    assert fetch(IN_ORDER) == fetch(*APART) == sum(1 for _row in Store(today=TODAY).rows())
    print(f"{items} items, {fetch(IN_ORDER)} rows, {candidate()} short")
    print("  beside one ordered fetch: ", end="")
    pair(lambda: fetch(IN_ORDER), candidate)
    print("  beside three fetches: ", end="")
    pair(lambda: fetch(*APART), candidate)
    driver.close()


def main() -> None:
    # Needs over supply: with 0.6 hardly anything is short, with 1.0 most of it is.
    for items in (100, 2000):
        for scarce in (0.6, 0.8, 1.0):
            measure(items, scarce=scarce)


if __name__ == "__main__":
    main()
