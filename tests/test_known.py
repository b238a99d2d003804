"""No list has a column of figures or days without saying how it is known; every state word is explained."""

from importlib import import_module
from pkgutil import iter_modules

import pytest

import inventory.tables
import planner.tables
from inventory.glossary import GLOSSES
from inventory.known import KNOWN
from inventory.table_parts import DayColumn, HouseTable, MoneyColumn, QuantityColumn
from planner.models import Batch
from planner.phenology.window import WindowState

PACKAGES = (inventory.tables, planner.tables)


def every_table():
    for package in PACKAGES:
        for module in iter_modules(package.__path__):
            found = vars(import_module(f"{package.__name__}.{module.name}")).values()
            yield from (
                table
                for table in found
                if isinstance(table, type) and issubclass(table, HouseTable)
            )


TABLES = sorted(set(every_table()) - {HouseTable}, key=lambda table: table.__name__)


def holds_figures(column) -> bool:
    is_number = "number" in str(column.attrs.get("td", ""))
    return is_number or isinstance(column, (QuantityColumn, MoneyColumn, DayColumn))


@pytest.mark.unit
@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.__name__)
def test_every_column_of_figures_and_days_says_how_it_is_known(table):
    silent = [
        name
        for name, column in table.base_columns.items()
        if holds_figures(column) and table.known.get(name) not in KNOWN
    ]

    assert silent == []


@pytest.mark.unit
@pytest.mark.parametrize("table", TABLES, ids=lambda table: table.__name__)
def test_a_note_is_about_a_column_that_is_there(table):
    assert set(table.known) <= set(table.base_columns)


@pytest.mark.unit
@pytest.mark.parametrize("state", Batch.State.labels)
def test_every_state_of_a_batch_is_explained(state):
    assert GLOSSES[state]


# The words of the screens, place by place.
SAID = """
used, thrown out, fresh, chilled, frozen, dried, steeped
on the shelf, spoken for, on its way, running low, past its date
moving, still once, still twice
clean, dirty, filled, lent, cracked, new, last use, spent
free, booked, in use, to be washed, away
covered, order by, overdue, ask for it sooner, go, look again, stop
within, near, over the bottle, over the closure
bone dry, dry, medium dry, medium, sweet
measured, worked out, taken on trust, not known
pick, weigh, sort, split, put by, fetch, set down, pitch, strain, rack, steady, fill, cap, cage
lay down, open, wash
"""


@pytest.mark.unit
@pytest.mark.parametrize("word", SAID.strip().replace("\n", ", ").split(", "))
def test_every_word_of_the_screens_is_explained(word):
    assert GLOSSES[word]


@pytest.mark.unit
@pytest.mark.parametrize("state", [state.value for state in WindowState])
def test_every_state_of_a_window_is_explained(state):
    assert GLOSSES[state]
