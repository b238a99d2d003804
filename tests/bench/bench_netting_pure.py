"""How much does netting cost beyond reading its rows in order?

Run from the top of the project: python -m tests.bench.bench_netting_pure
Floor: the driver's ordered fetch from the covering index. Goal: at most 2.0 with the ORM in the way.
"""

import random
import time

from inventory.netting import LOT, RECEIPT, REQUIREMENT, Policy, net_all
from tests.bench.pairs import pair

try:
    import pysqlite3 as sqlite3
except ImportError:
    import sqlite3

TODAY = 740_000
COLUMNS = "item, day, kind, key, quantity, last_day"
ORDERED = f"SELECT {COLUMNS} FROM event ORDER BY item, day, kind, key"
ONE_ITEM = f"SELECT {COLUMNS} FROM event WHERE item = ? ORDER BY item, day, kind, key"


def house(items: int, events: int, *, scarce: float) -> sqlite3.Connection:
    """An event table of that size; scarce is needs over stock."""
    connection = sqlite3.connect(":memory:")
    connection.execute(
        "CREATE TABLE event (id INTEGER PRIMARY KEY, item INT, day INT, kind INT, key INT, quantity INT, last_day INT)"
    )
    chance = random.Random(20260406)
    rows = [row for item in range(items) for row in item_rows(chance, item, events, scarce=scarce)]
    connection.executemany(
        f"INSERT INTO event ({COLUMNS}) VALUES (?, ?, ?, ?, ?, ?)",
        [(*row[:3], key, *row[3:]) for key, row in enumerate(rows)],
    )
    connection.execute(f"CREATE INDEX event_order ON event ({COLUMNS})")
    return connection


def item_rows(chance: random.Random, item: int, events: int, *, scarce: float) -> list[tuple]:
    """One item: six lots, four receipts, the rest needs of one year; two in three lots carry a date."""
    supply = [chance.randrange(500, 1500) for _ in range(10)]
    mean = int(sum(supply) * scarce / (events - 10))
    rows = [(item, 0, LOT, quantity, last_day(chance)) for quantity in supply[:6]]
    rows += [(item, day(chance), RECEIPT, quantity, 0) for quantity in supply[6:]]
    needs = [chance.randrange(1, 2 * mean) for _ in range(events - 10)]
    return rows + [(item, day(chance), REQUIREMENT, quantity, 0) for quantity in needs]


def day(chance: random.Random) -> int:
    return TODAY + chance.randrange(365)


def last_day(chance: random.Random) -> int:
    return TODAY + chance.randrange(30, 700) if chance.random() < 2 / 3 else 0


def measure(items: int, events: int, *, scarce: float, detail: bool) -> None:
    connection = house(items, events, scarce=scarce)
    policies = {item: Policy(TODAY, lead_days=7, pack=1000, safety=100) for item in range(items)}

    def floor() -> None:
        for _row in connection.execute(ORDERED):
            pass

    def candidate() -> int:
        netted = net_all(connection.execute(ORDERED), policies, detail=detail)
        return sum(1 for _, answer in netted if answer.shortfalls)

    print(f"{items} items x {events} rows, {candidate()} short, detail {detail}: ", end="")
    pair(floor, candidate, clock=time.process_time)


def measure_one_item() -> None:
    connection = house(500, 50, scarce=0.8)
    policies = {77: Policy(TODAY, lead_days=7, pack=1000, safety=100)}

    def floor() -> None:
        for _row in connection.execute(ONE_ITEM, (77,)):
            pass

    def candidate() -> None:
        for _item in net_all(connection.execute(ONE_ITEM, (77,)), policies):
            pass

    print("one item of 500, 50 rows: ", end="")
    pair(floor, candidate, pairs=41, clock=time.process_time)


def main() -> None:
    for detail in (False, True):
        measure(100, 50, scarce=0.85, detail=detail)
        measure(500, 100, scarce=0.85, detail=detail)
        measure(2000, 50, scarce=0.6, detail=detail)
        measure(2000, 50, scarce=0.85, detail=detail)
    measure_one_item()


if __name__ == "__main__":
    main()
