"""Published and separately computed values for windows, place shifts and doses.

Without a published check yet: the spot's own lateness, the halved shift of late fruit and the
turned shift of frost cues (all judgements), and the words not yet, showing and going over.
"""

import csv
from datetime import datetime
from itertools import dropwhile
from pathlib import Path

import pytest

from planner.catalogue import catalogue
from planner.phenology import BRITAIN, Gradient, Place, common_day, hopkins_shift, spring_shift

TABLE = Path(__file__).with_name("forage_checks.csv")
OXFORD_LATITUDE, OXFORD_HEIGHT_M = 51.76, 63
# 2.6 of the station table counts from the station itself, C22 to C25 from the rounded place.
STATION_LATITUDE = 51.761


def rows():
    lines = TABLE.read_text(encoding="utf-8").splitlines()
    return list(csv.DictReader(dropwhile(lambda line: line.startswith("#"), lines)))


def places(row):
    from_station = row["id"].startswith(("H-", "G-"))
    latitude = STATION_LATITUDE if from_station else OXFORD_LATITUDE
    return {
        "origin": Place(latitude, 0, OXFORD_HEIGHT_M),
        "target": Place(float(row["latitude"]), 0, float(row["height_m"])),
    }


def plant(text):
    key, number = text.split()
    return next(plant for plant in catalogue() if plant.key == key), float(number)


def hopkins(row):
    return hopkins_shift(**places(row))


def observed(row):
    return spring_shift(**places(row), gradient=Gradient(days_per_degree_north=3.63))


def day(row):
    return common_day(datetime.strptime(f"{row['text']} 2028", "%d %b %Y").date())  # noqa: DTZ007


def inside(row):
    found, number = plant(row["text"])
    return found.window.holds(int(number))


def dose(row):
    found, litres = plant(row["text"])
    return found.doses[0].for_litres(litres)[1]


QUANTITIES = {
    "hopkins": hopkins,
    "observed": observed,
    "day": day,
    "inside": inside,
    "dose": dose,
}


# The tolerance is half the last digit given, as written in the row.
@pytest.mark.parametrize("row", rows(), ids=lambda row: f"{row['id']} {row['text']}")
def test_the_value_is_reproduced(row):
    found = QUANTITIES[row["quantity"]](row)

    assert found == pytest.approx(float(row["expected"]), abs=float(row["tolerance"]) + 1e-9)


def test_the_default_for_britain_follows_its_source():
    # Jeffree 1960: 21 days over some 400 miles; 111.2 km a degree, 1.609344 km a mile (C26).
    a_degree = 21 / (400 * 1.609344 / 111.2)

    assert a_degree == pytest.approx(3.63, abs=0.005)
    assert BRITAIN.days_per_degree_north == pytest.approx(a_degree, abs=0.05)
