"""How warm has this year been so far, beside a usual one?"""

import datetime as dt

from inventory.pictures import (
    Fact,
    Key,
    Line,
    Picture,
    Plot,
    date_words,
    day_axis,
    value_axis,
)
from planner.phenology import Weather, date_of
from planner.phenology.thermal import sums_of

BASE_C = 5.0
KEYS = (
    Key("stroke", "line", "this year"),
    Key("stroke", "ruled", "usual months"),
)


def warmth_picture(weather: Weather, *, today: dt.date) -> Picture | None:
    """Degree-days over 5 °C since 1 January; none while this year has no days, or with many gaps."""
    now = weather.sums(today.year, 1, BASE_C)
    usual = sums_of(weather.normals, start=1, base_c=BASE_C)
    if not now or not usual:
        return None
    last = max(now)
    days = [*range(1, 365, 7), 365]
    here = [day for day in now if day % 7 == 1 or day == last]
    top = max(usual[365], now[last])
    plot = Plot(
        across=day_axis(dt.date(today.year, 1, 1), dt.date(today.year, 12, 31)),
        up=value_axis(0, top * 1.05, lambda value: f"{value:.0f}", name="sum"),
        lines=[
            Line("usual", [(date_of(today.year, day), usual[day]) for day in days], "ruled"),
            Line("this year", [(date_of(today.year, day), now[day]) for day in here]),
        ],
        now=today,
    )
    ahead = _days_ahead(usual, now[last], last)
    end = date_of(today.year, last)
    return Picture(
        title=f"Warmth of {today.year} over {BASE_C:g} °C",
        finding=f"{now[last]:.0f} degree-days until {date_words(end)}: {ahead}.",
        drawing=plot.drawing(),
        head=("Until", "This year", "Usual"),
        facts=tuple(
            Fact((date_words(date_of(today.year, day)), f"{now[day]:.0f}", f"{usual[day]:.0f}"))
            for day in here
        ),
        keys=KEYS,
    )


def _days_ahead(usual: dict[int, float], total: float, day: int) -> str:
    """How many days a usual year takes more or less to come as far."""
    there = next((d for d, held in usual.items() if held >= total), 365)
    days = there - day
    if not days:
        return "as in a usual year"
    return f"{abs(days)} days {'ahead of' if days > 0 else 'behind'} a usual year"
