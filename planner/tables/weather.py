import datetime as dt
from dataclasses import dataclass

import django_tables2 as tables

from inventory.table_parts import DayColumn, HouseTable, LinkColumn
from planner.models import WeatherFile
from planner.phenology import Weather, common_day
from planner.phenology.thermal import MOST_MISSING
from planner.warmth_picture import BASE_C

NUMBER = {"td": {"class": "number"}, "th": {"class": "number"}}


@dataclass(frozen=True)
class WeatherYear:
    """One year of the house's weather: days there, days missing until its end or today, warmth."""

    year: int
    days: int
    missing: int
    warmth: str


def years_of(weather: Weather, today: dt.date) -> list[WeatherYear]:
    """The newest first; the warmth is not known where more than one day in ten is missing."""
    found = []
    for year in sorted(weather.years, reverse=True):
        days = weather.years[year]
        end = common_day(today) if year == today.year else 365
        sums = weather.sums(year, 1, BASE_C)
        missing = max(0, end - len(days))
        whole = sums and missing <= MOST_MISSING * end
        warmth = f"{sums[max(sums)]:.0f}" if whole else "not known"
        found.append(WeatherYear(year, len(days), missing, warmth))
    return found


class YearTable(HouseTable):
    known = {"days": "counted", "missing": "counted", "warmth": "warmth sum"}
    caption = "Years"

    year = tables.Column()
    days = tables.Column(verbose_name="Days there", attrs=NUMBER)
    missing = tables.Column(attrs=NUMBER)
    warmth = tables.Column(verbose_name=f"Degree-days over {BASE_C:g} °C", attrs=NUMBER)

    class Meta(HouseTable.Meta):
        prefix = "years-"
        orderable = False
        empty_text = "No daily file has been taken in yet."


class WeatherFileTable(HouseTable):
    known = {"first": "typed", "last": "typed", "missing": "counted"}
    caption = "Files taken in"

    name = LinkColumn(verbose_name="File")
    kind = tables.Column(verbose_name="Read as")
    first = DayColumn(verbose_name="From")
    last = DayColumn(verbose_name="Until")
    missing = tables.Column(verbose_name="Days missing", attrs=NUMBER)
    by = tables.Column(verbose_name="Who")

    class Meta(HouseTable.Meta):
        model = WeatherFile
        fields = ("name", "kind", "first", "last", "missing", "by")
        prefix = "files-"
        orderable = False
        empty_text = "No daily file has been taken in yet."
