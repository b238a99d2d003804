"""Published and separately computed values for windows, place shifts and doses.

Three published checks need a station file that cannot be had here: warmth and cherry bloom at
Klein-Altendorf (C11, C43). Without a published check yet: the spot's own lateness, the halved shift of late fruit and the
turned shift of frost cues (all judgements), and the words not yet, showing and going over.
"""

import csv
from datetime import datetime
from itertools import dropwhile
from pathlib import Path

import pytest

from planner.catalogue import catalogue
from planner.phenology import (
    BRITAIN,
    Gradient,
    Place,
    Seen,
    chilling,
    common_day,
    hopkins_shift,
    learning,
    normal_year,
    spring_shift,
)
from planner.phenology.daylight import day_length_h
from planner.phenology.normals import stations
from planner.phenology.warmth import Method, degree_days, warmth_of

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


def warmth(row):
    method, low, high, base = row["text"].split()
    pair = {"low_c": float(low), "high_c": float(high), "base_c": float(base)}
    return degree_days(method=Method(method), **pair)


def utah(row):
    return chilling.utah_units([float(row["text"])])


def portions(row):
    """A thousand hours at one temperature, then a day of warmth."""
    return chilling.chill_portions([float(row["text"])] * 1000 + [25.0] * 24)


def daylight(row):
    day = datetime.strptime(row["text"], "%d %b %Y").date()  # noqa: DTZ007
    return day_length_h(latitude=float(row["latitude"]), day=day)


def learned(row):
    name, prior, prior_sd, yearly_sd, *days = row["text"].split()
    seen = [Seen(float(day)) for day in days]
    spreads = {"prior_sd": float(prior_sd), "yearly_sd": float(yearly_sd)}
    return getattr(learning.learn(prior_mean=float(prior), seen=seen, **spreads), name)


def cue(row):
    late, correlation, sd = (float(part) for part in row["text"].split())
    return learning.after_cue(cue_days_late=late, correlation=correlation, sd=sd)


def normals(row):
    name, base, until = row["text"].split()
    station = stations()[name]
    year = normal_year(station.lows_c, station.highs_c)
    days = [pair for day, pair in year.items() if day <= int(until)]
    return warmth_of(days, base_c=float(base))


QUANTITIES = {
    "warmth": warmth,
    "utah": utah,
    "portions": portions,
    "daylight": daylight,
    "learned": learned,
    "cue days": lambda row: cue(row)[0],
    "cue sd": lambda row: cue(row)[1],
    "normals": normals,
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
