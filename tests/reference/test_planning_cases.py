"""Published netting cases, row by row; all figures are whole pieces and must be met exactly."""

import csv
from pathlib import Path

import pytest

from inventory.netted import Lot, Policy, Receipt, Requirement
from inventory.netting import net

CASES = Path(__file__).parent / "planning_cases"
GIVEN = ("start", "lot", "lead", "needed", "scheduled")
WEEK = 7


def read(case):
    """A case as {item: {row: figures by week}}, parents before parts, and its number of weeks."""
    lines = [line for line in (CASES / f"{case}.csv").read_text().splitlines() if line[0] != "#"]
    items = {}
    for item, row, *figures in csv.reader(lines[1:]):
        items.setdefault(item, {})[row] = [int(figure) for figure in figures]
    return items, lines[0].count(",") - 1


def worked_out(case):
    """Net every item of the case, each after those it goes into."""
    items, weeks = read(case)
    rows = {}
    for item, given in items.items():
        gross = given.get("needed", [0] * weeks)
        for row, figures in given.items():
            if row.startswith("per "):
                released = rows[row.removeprefix("per ")]["planned release"]
                gross = [a + figures[0] * b for a, b in zip(gross, released, strict=True)]
        rows[item] = item_rows(given, gross, weeks)
    return rows


def item_rows(given, gross, weeks):
    given = {"start": [0], "lot": [1], "lead": [0], "scheduled": []} | given
    netted = net(
        Policy(today=WEEK, lead_days=given["lead"][0] * WEEK, pack=given["lot"][0]),
        [Lot("start", given["start"][0])],
        [Receipt(n, n * WEEK, due) for n, due in enumerate(given["scheduled"], 1)],
        [Requirement(n, n * WEEK, need) for n, need in enumerate(gross, 1)],
    )
    orders = netted.orders
    return {
        "gross": gross,
        "on hand": [on_hand(netted, week * WEEK) for week in range(1, weeks + 1)],
        "net": by_week(weeks, [(s.day, s.quantity) for s in netted.shortfalls]),
        "planned receipt": by_week(weeks, [(o.arrive_day, o.quantity) for o in orders]),
        "planned release": by_week(weeks, [(o.order_day, o.quantity) for o in orders]),
        "sooner": by_week(weeks, [(s.to_day, s.quantity) for s in netted.sooner]),
    }


def on_hand(netted, day):
    return [quantity for event, quantity in netted.on_hand if event <= day][-1]


def by_week(weeks, dated):
    figures = [0] * weeks
    for day, quantity in dated:
        figures[day // WEEK - 1] += quantity
    return figures


def published():
    for path in sorted(CASES.glob("*.csv")):
        for item, rows in read(path.stem)[0].items():
            for row, figures in rows.items():
                if row not in GIVEN and not row.startswith("per "):
                    yield pytest.param(
                        path.stem, item, row, figures, id=f"{path.stem} {item} {row}"
                    )


@pytest.mark.parametrize(("case", "item", "row", "figures"), list(published()))
def test_netting_gives_the_published_row(case, item, row, figures):
    assert worked_out(case)[item][row] == figures


def test_all_eight_cases_are_read_with_all_their_rows():
    assert len(list(CASES.glob("*.csv"))) == 8
    assert len(list(published())) == 38


def test_the_changed_m5_asks_for_the_next_receipt_sooner_and_names_the_late_purchase_instead():
    netted = net(
        Policy(today=7, lead_days=28, pack=200),
        [Lot("start", 100)],
        [Receipt("week 2", 14, 200), Receipt("week 4", 28, 200)],
        [
            Requirement(week, week * 7, need)
            for week, need in [(1, 50), (2, 125), (3, 150), (4, 60), (5, 40)]
        ],
    )

    assert netted.sooner == [("week 4", 28, 21, 200, 200, -7, True)]
    assert netted.shortfalls == [(21, 25, 25, ((3, 25),), False, "sooner")]
    assert netted.orders == []
