"""How much does one posting cost beyond the driver's own statements?

Run from the top of the project: python -m tests.bench.bench_posting
Floor: the least that a posting must write and ask, by the driver, in an immediate transaction with the same
pragmas on the same file: the lot, its sum, the line, the activity. Goal: at most 12. Beside it, every
statement that the posting really sent is sent again by the driver, which leaves the cost of Python alone.
"""

from tests.bench.own_house import bare_connection  # isort: skip

import datetime as dt
import re
from collections.abc import Callable

from django.db import connection
from django.test.utils import CaptureQueriesContext

from inventory import household, ledger, requirements
from inventory.models import Activity, Item, Lot, Movement, Person
from tests.bench.pairs import pair

TODAY = dt.date(2026, 4, 6)
PAIRS = 201
LINE = (
    "INSERT INTO inventory_movement (lot_id, quantity, kind, day, reason, recorded_at, by_id)"
    " VALUES (?, ?, 'issue', '2026-04-06', '', '2026-04-06 09:00:00', ?)"
)
ACTIVITY = (
    "INSERT INTO inventory_activity (at, by_id, verb, model, object_id, summary, link, undo, undo_data)"
    " VALUES ('2026-04-06 09:00:00', ?, 'issue', 'inventory.Movement', ?, 'Used 1 mg', '/lots/1/',"
    " 'ledger.line', '{}')"
)


def house(needs: int) -> tuple[Lot, Person]:
    """One more item in the house, with one lot and so many open needs that are promised some of it."""
    household.settle(name="Skelder Fold", time_zone="Europe/London")
    maker = Person.objects.filter(username="maker").first() or household.add_person(
        username="maker", password=None, role="maker"
    )
    item = Item.objects.create(name=f"Herb for {needs}", kind="foraged", base="mg", pack=1000)
    lot = ledger.receive(item=item, quantity=10**9, on=TODAY, by=maker)
    requirements.need_all(
        needs=[
            requirements.Need(item, 1000, TODAY + dt.timedelta(days=number), "Gorse")
            for number in range(needs)
        ],
        by=maker,
    )
    return lot, maker


def least(driver, lot: Lot, maker: Person) -> Callable[[], None]:
    def post() -> None:
        driver.execute("BEGIN IMMEDIATE")
        driver.execute("SELECT * FROM inventory_lot WHERE id = ?", [lot.pk]).fetchone()
        summed = "SELECT sum(quantity) FROM inventory_movement WHERE lot_id = ?"
        driver.execute(summed, [lot.pk]).fetchone()
        line = driver.execute(LINE, [lot.pk, -1, maker.pk]).lastrowid
        driver.execute(ACTIVITY, [maker.pk, line])
        driver.execute("COMMIT")

    return post


def again(driver, statements: list[str]) -> Callable[[], None]:
    def post() -> None:
        for statement in statements:
            driver.execute(statement).fetchall()

    return post


def statements_of(posting: Callable[[], object]) -> list[str]:
    """What the posting sends, its values written in."""
    with CaptureQueriesContext(connection) as sent:
        posting()
    return [re.sub(r"^BEGIN$", "BEGIN IMMEDIATE", query["sql"]) for query in sent]


def measure(needs: int) -> None:
    lot, maker = house(needs)
    driver = bare_connection()

    def posting() -> None:
        ledger.issue(lot=lot, quantity=1, on=TODAY, by=maker)

    before = Movement.objects.count(), Activity.objects.count()
    sent = statements_of(posting)
    again(driver, sent)()
    written = Movement.objects.count() - before[0], Activity.objects.count() - before[1]
    assert written == (2, 2), written

    print(f"{needs} needs of the item, {len(sent)} statements sent")
    print("  beside the least: ", end="")
    pair(least(driver, lot, maker), posting, pairs=PAIRS)
    print("  beside the same statements: ", end="")
    pair(again(driver, sent), posting, pairs=PAIRS)
    driver.close()


def main() -> None:
    for needs in (0, 5):
        measure(needs)


if __name__ == "__main__":
    main()
