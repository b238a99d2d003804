"""When does one plant open in one year, at the house or at a patch, by all that is known here?"""

import datetime as dt
from collections.abc import Sequence
from typing import NamedTuple

from inventory.shown import day_text
from planner.phenology import (
    AUTUMN_CORRELATION,
    NEIGHBOUR_CORRELATION,
    SPRING_CORRELATION,
    Cue,
    DatedWindow,
    Forecast,
    Reason,
    Seen,
    ShiftKind,
    Weather,
    common_day,
    date_of,
    fit,
    forecast,
    foretell,
)
from planner.phenology.learning import LOOKS_EVERY_DAYS
from planner.phenology.seasons import Season, season_number
from planner.phenology.thermal import LEAST_YEARS, Reached
from planner.spots import Spot


class Opening(NamedTuple):
    """One season: its window, from which day to which it may open, and what speaks for that.

    `seen` is the day on which it was first seen open this season; then nothing is foretold.
    """

    window: DatedWindow
    earliest: dt.date
    latest: dt.date
    forecast: Forecast | None = None
    seen: dt.date | None = None

    @property
    def reasons(self) -> tuple[Reason, ...]:
        return self.forecast.reasons if self.forecast else ()

    def chance_on(self, day: dt.date) -> float:
        """The chance that it is open on that day, 0 to 1."""
        if self.forecast is None:
            return float(day in self.window)
        length = (self.window.last - self.window.first).days + 1
        number = common_day(day) + 365 * (day.year - self.window.first.year)
        return self.forecast.chance_on(number, lasts=length)


def opening(
    spot: Spot,
    year: int,
    *,
    on: dt.date,
    weather: Weather | None = None,
    neighbours: Sequence[Cue] = (),
) -> Opening:
    """The season that opens in a year, as it is known on a day."""
    season = spot.seasons.get(year)
    if season is not None and season.opened is not None:
        return _seen_open(spot, year, season)
    own_cue = _cue(spot, year, on)
    cues = [*neighbours, *([own_cue] if own_cue else [])]
    own = spot.own_dates(before=year)
    warmed, words = _warmed(spot, year, on, own, weather)
    not_yet = season.not_yet if season and year >= on.year - 1 else None
    found = forecast(
        usual=spot.usual.first,
        usual_words=spot.usual_words,
        seen=[date for _, date in own],
        cues=cues,
        reached=warmed,
        reached_words=words,
        not_yet_on=not_yet,
    )
    low, high = found.interval
    return Opening(
        _window(spot, year, round(found.expected), season),
        date_of(year, round(low)),
        date_of(year, round(high)),
        found,
    )


def _seen_open(spot: Spot, year: int, season: Season) -> Opening:
    """What was seen stands; where nobody looked the day before it had been open some days already."""
    first, seen = season.first_seen, date_of(year, season.first_seen)
    if not season.is_exact:
        first = round(first - LOOKS_EVERY_DAYS)
        if season.not_yet is not None:
            first = max(first, round(season.not_yet) + 1)
        first = min(first, season.first_seen)
    window = _window(spot, year, first, season)
    return Opening(window, window.first, seen, seen=seen)


def _window(spot: Spot, year: int, first: int, season: Season | None) -> DatedWindow:
    """Its days from the first on: as long as it lasts, or until it was seen to be over."""
    last = first + spot.lasts - 1
    peak = first + round(spot.peaks_after * (last - first))
    if season is not None:
        if season.over is not None:
            last = max(first, round(season.over) - 1)
        # Still open after it should have been over: it lasts at least until it was last seen so.
        elif season.going_over is not None:
            last = max(last, round(season.going_over))
    return DatedWindow(date_of(year, first), date_of(year, min(peak, last)), date_of(year, last))


def _cue(spot: Spot, year: int, on: dt.date) -> Cue | None:
    """How late its cue came this year; it lies so many days before the peak."""
    plant = spot.plant
    if not spot.cues or plant.cue_lag_days is None:
        return None
    usual = spot.usual.peak - plant.cue_lag_days
    numbers = [season_number(day, usual) for day in spot.cues if day <= on]
    days = [number for season, number in numbers if season == year]
    if not days:
        return None
    late = min(days) - usual
    kind = SPRING_CORRELATION if spot.kind is ShiftKind.SPRING else AUTUMN_CORRELATION
    day = day_text(date_of(year, min(days)))
    return Cue(f"{plant.cue} on {day}, {_late_words(late)}", late, kind)


def neighbour(spot: Spot, year: int, opened: Opening, name: str) -> Cue:
    """What a patch that was seen open says to the others: how late it was by what was known before."""
    usual = opening(spot.without(year), year, on=dt.date(year, 1, 1)).window.first
    late = (opened.seen - usual).days
    words = f"{name} opened on {day_text(opened.seen)}, {_late_words(late)}"
    return Cue(words, late, NEIGHBOUR_CORRELATION)


def _late_words(days: float) -> str:
    if not days:
        return "on its usual day"
    return f"{abs(days):.0f} days {'late' if days > 0 else 'early'}"


def _warmed(
    spot: Spot,
    year: int,
    on: dt.date,
    own: Sequence[tuple[int, Seen]],
    weather: Weather | None,
) -> tuple[Reached | None, str]:
    """By warmth, where the plant is one of spring and the house has years enough of both."""
    if weather is None or year != on.year or not spot.kind.allows_thermal_time:
        return None, ""
    events = [(season, date.likely) for season, date in own if season in weather.years]
    if len(events) < LEAST_YEARS or not 1 <= spot.usual.first <= 365:
        return None, ""
    warming = fit(events, weather)
    if warming is None:
        return None, ""
    reached = foretell(warming, weather=weather, year=year, today=common_day(on))
    if reached is None:
        return None, ""
    start = day_text(date_of(year, warming.start))
    words = (
        f"{reached.so_far:.0f} of {warming.threshold:.0f} degree-days over {warming.base_c:g} °C "
        f"since {start}, by {warming.years} own years"
    )
    return reached, words
