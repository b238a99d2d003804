"""What do all windows of 100 plants at 10 patches over 20 years cost beside the fetch of their rows?

Run from the top of the project: python -m tests.bench.bench_windows
Floor: the bare driver fetches the observations. Goal: within 10. Printed as well: how the time grows
from 2 to 20 years, and how long ten years of daily weather take to be looked at and taken in.
"""

from tests.bench.own_house import bare_connection  # isort: skip

import datetime as dt
import random
import time

from inventory import household
from planner import harvest, patches, weather
from planner.models import Observation, Patch, Plant
from planner.models.picks import Stage
from planner.plants import load_catalogue
from tests.bench.pairs import pair

PLANTS, PATCHES, TODAY = 100, 10, dt.date(2026, 4, 6)
FETCH = "SELECT plant_id, patch_id, day, stage, looked_before FROM planner_observation"


def fill(years):
    """Every plant seen open at every patch once a year, about its own day."""
    chance = random.Random(20260406)
    Observation.objects.all().delete()
    for plant in plants():
        for patch in places():
            for year in range(TODAY.year - years, TODAY.year):
                first = dt.date(year, 1, 1) + dt.timedelta(plant.first_day - 1)
                day = first + dt.timedelta(round(chance.gauss(0, 7)))
                yield Observation(plant=plant, patch=patch, stage=Stage.OPEN, day=day)


def plants():
    return list(Plant.objects.filter(first_day__isnull=False).order_by("pk")[:PLANTS])


def places():
    return list(Patch.objects.all())


def windows(house, kept, spots, years):
    found = 0
    held = harvest.known(house)
    for plant in kept:
        for patch in spots:
            for window in harvest.years_at(
                plant,
                house=house,
                patch=patch,
                held=held,
                on=TODAY,
                years=range(TODAY.year - years, TODAY.year),
            ):
                found += window is not None
    return found


def main():
    load_catalogue()
    house = household.settle(
        name="Bench",
        time_zone="Europe/London",
        country="GB",
        latitude_thousandths=54_400,
        height_m=180,
    )
    for n in range(PATCHES):
        patches.add_patch(name=f"Patch {n}", by=None)
    kept, spots = plants(), places()
    connection = bare_connection()
    taken = {}
    for years in (2, 20):
        Observation.objects.bulk_create(fill(years), batch_size=5000)
        begun = time.perf_counter()
        count = windows(house, kept, spots, years)
        taken[years] = time.perf_counter() - begun
        print(f"{years} years: {count} windows in {taken[years] * 1000:.0f} ms")
    print(f"ten times the years take {taken[20] / taken[2]:.1f} times as long")
    pair(
        lambda: connection.execute(FETCH).fetchall(),
        lambda: windows(house, kept, spots, 20),
        pairs=7,
    )

    lines = ["date,tmin,tmax"]
    lines += [f"{dt.date(2016, 1, 1) + dt.timedelta(n)},{n % 9},{n % 9 + 8}" for n in range(3653)]
    begun = time.perf_counter()
    file = weather.look_at(name="ten years", data="\n".join(lines).encode(), by=None)
    weather.take_in(file=file, by=None)
    weather.here(house)
    print(f"ten years of daily weather: {time.perf_counter() - begun:.2f} s")


if __name__ == "__main__":
    main()
