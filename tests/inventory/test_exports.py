"""A list taken away as a file holds every row, exact amounts, and nothing a spreadsheet runs."""

import csv
import datetime as dt
import io

import django_tables2 as tables
import pytest

from inventory import exports
from inventory.table_parts import ActionsColumn, DueColumn, HouseTable, LinkColumn, QuantityColumn


class StoreTable(HouseTable):
    name = tables.Column()
    amount = QuantityColumn(base="mg", verbose_name="On hand")
    due = DueColumn(verbose_name="Use by")
    actions = ActionsColumn(("Use", "inventory:lot-use"))

    class Meta(HouseTable.Meta):
        per_page = 2


@pytest.fixture(autouse=True)
def day(settings):
    settings.PRETEND_TODAY = dt.date(2026, 4, 6)


def row(name="White sugar", amount=1_234_567, due=dt.date(2026, 4, 7)):
    return {"name": name, "amount": amount, "due": due}


def read(response) -> list[list[str]]:
    return list(csv.reader(io.StringIO(response.content.decode())))


def test_a_file_has_a_name_a_kind_and_quoted_cells():
    response = exports.csv_response(StoreTable([row()]), "store")

    assert response["Content-Type"] == "text/csv; charset=utf-8"
    assert response["Content-Disposition"] == 'attachment; filename="store-2026-04-06.csv"'
    assert response.content.decode().splitlines() == [
        '"Name","On hand","Use by"',
        '"White sugar","1234.567 g","2026-04-07"',
    ]


def test_all_rows_leave_and_not_only_the_page_shown():
    table = StoreTable([row(f"Thing {number}") for number in range(5)])
    table.paginate(page=1, per_page=2)

    assert len(read(exports.csv_response(table, "store"))) == 6


@pytest.mark.parametrize(
    ("typed", "written"),
    [
        ("=1+1", "'=1+1"),
        ("+44", "'+44"),
        ("-2", "'-2"),
        ("@sum", "'@sum"),
        ("\tx", "'\tx"),
        ("'quoted", "''quoted"),
        ("sugar = sweet", "sugar = sweet"),
        ('a "b", c', 'a "b", c'),
    ],
)
def test_nothing_in_a_cell_is_run_as_a_formula(typed, written):
    response = exports.csv_response(StoreTable([row(typed)]), "store")

    assert read(response)[1][0] == written


def test_a_carriage_return_in_front_is_made_harmless():
    assert exports.harmless("\r=1+1") == "'\r=1+1"


def test_markup_of_a_cell_stays_behind_but_typed_angle_brackets_leave():
    class Names(HouseTable):
        name = LinkColumn(linkify=lambda record: "/x/")

        def render_name(self, value):
            return exports.SafeString("<b>Damson &amp; bramble</b>")

    class Typed(HouseTable):
        name = tables.Column()

    assert read(exports.csv_response(Names([row()]), "names"))[1] == ["Damson & bramble"]
    assert read(exports.csv_response(Typed([row("a <b> c")]), "names"))[1] == ["a <b> c"]


def test_an_amount_is_written_exactly_and_a_loss_is_guarded():
    table = StoreTable([row(amount=-1_500_000), row(amount=1)])

    lines = read(exports.csv_response(table, "store"))

    assert lines[1][1] == "'-1500 g"
    assert lines[2][1] == "0.001 g"
