"""When will it open here? Windows as day numbers, moved to a place, with their spread."""

from planner.phenology.days import common_day, date_of
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
from planner.phenology.spread import (
    BETWEEN_YEAR_SD_DAYS,
    Interval,
    half_width_days,
    opening_interval,
)
from planner.phenology.window import (
    SHOWING_DAYS,
    DatedWindow,
    Window,
    WindowState,
    windows_touching,
)

__all__ = [
    "BETWEEN_YEAR_SD_DAYS",
    "BRITAIN",
    "SHOWING_DAYS",
    "DatedWindow",
    "Gradient",
    "Interval",
    "Place",
    "ShiftKind",
    "Window",
    "WindowState",
    "common_day",
    "date_of",
    "half_width_days",
    "hopkins_shift",
    "opening_interval",
    "place_cautions",
    "place_shift",
    "spring_shift",
    "windows_touching",
]
