"""When will it open here? Windows as day numbers, moved to a place, with their spread."""

from planner.phenology.days import common_day, date_of
from planner.phenology.forecast import Cue, Forecast, Reason, forecast
from planner.phenology.learning import (
    AUTUMN_CORRELATION,
    NEIGHBOUR_CORRELATION,
    SPRING_CORRELATION,
    Seen,
)
from planner.phenology.picking import at_weekends, days_to_pick
from planner.phenology.place import (
    BRITAIN,
    Gradient,
    Place,
    ShiftKind,
    hopkins_shift,
    place_cautions,
    place_shift,
    spring_shift,
)
from planner.phenology.seasons import CUE, Sighting, by_season
from planner.phenology.spread import (
    BETWEEN_YEAR_SD_DAYS,
    Interval,
    half_width_days,
    opening_interval,
)
from planner.phenology.thermal import Warming, Weather, fit, foretell, means_of, normal_year
from planner.phenology.window import (
    SHOWING_DAYS,
    DatedWindow,
    Window,
    WindowState,
    windows_touching,
)

__all__ = [
    "AUTUMN_CORRELATION",
    "BETWEEN_YEAR_SD_DAYS",
    "BRITAIN",
    "CUE",
    "NEIGHBOUR_CORRELATION",
    "SHOWING_DAYS",
    "SPRING_CORRELATION",
    "Cue",
    "DatedWindow",
    "Forecast",
    "Gradient",
    "Interval",
    "Place",
    "Reason",
    "Seen",
    "ShiftKind",
    "Sighting",
    "Warming",
    "Weather",
    "Window",
    "WindowState",
    "at_weekends",
    "by_season",
    "common_day",
    "date_of",
    "days_to_pick",
    "fit",
    "forecast",
    "foretell",
    "half_width_days",
    "hopkins_shift",
    "means_of",
    "normal_year",
    "opening_interval",
    "place_cautions",
    "place_shift",
    "spring_shift",
    "windows_touching",
]
