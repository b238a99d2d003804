"""What can be picked now, what opens next, and how sure is that in this house?"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date
from functools import cache

from inventory.models import Household
from planner.catalogue import LegalClass, catalogue
from planner.models import Plant
from planner.phenology import (
    DatedWindow,
    Place,
    ShiftKind,
    Window,
    WindowState,
    half_width_days,
    place_cautions,
    place_shift,
)

OPEN_STATES = (WindowState.OPEN, WindowState.GOING_OVER)
COMING_STATES = (WindowState.NOT_YET, WindowState.SHOWING)
# ISO 3166-1: the countries of the British Isles, and those of the catalogue's American rows.
BRITISH_COUNTRIES = ("GB", "IE", "IM", "GG", "JE")
AMERICAN_COUNTRIES = ("US", "CA")
# The house keeps no longitude and none counts in the shift: these only say British or not.
BRITISH_LONGITUDE, OTHER_LONGITUDE = -2.0, 10.0
# The shore of the Dead Sea, the lowest the shift knows; from memory.
LOWEST_PLACE_M = -430


@dataclass(frozen=True)
class PlantWindow:
    """One plant's window at this house: first, best and last day, all included.

    `days_left` counts the days for picking from the day asked for, that day included; it is None
    unless the plant is open. `spread_days` lie on either side of the opening, four years in five.
    """

    plant: Plant
    first: date
    peak: date
    last: date
    state: WindowState
    days_left: int | None
    spread_days: int
    shift_days: int
    cautions: tuple[str, ...]


@dataclass(frozen=True)
class Shift:
    """Days later at the house than where the catalogue has it from, and what to doubt about it."""

    days: float = 0.0
    cautions: tuple[str, ...] = ()


def windows(*, house: Household, on: date) -> list[PlantWindow]:
    """The window each plant stands nearest to on a day, by first day; one query.

    Plants that must not be used are left out, and so are those that grow elsewhere.
    """
    found = []
    for plant in _pickable(house):
        window, shift = _window_here(plant, house)
        found.append(_plant_window(plant, window.nearest(on), on=on, shift=shift))
    return _by_first_day(found)


def windows_between(
    *, house: Household, start: date, end: date, on: date, plants: Iterable[Plant] | None = None
) -> list[PlantWindow]:
    """Every window with a day from start to end, both included, by first day; one query."""
    found = []
    for plant in _pickable(house) if plants is None else plants:
        window, shift = _window_here(plant, house)
        found += [
            _plant_window(plant, dated, on=on, shift=shift) for dated in window.touching(start, end)
        ]
    return _by_first_day(found)


def window_of(plant: Plant, year: int, house: Household) -> DatedWindow | None:
    """The window of a plant that opens in a year; None where its days are not known."""
    if not _has_window(plant, house):
        return None
    return _window_here(plant, house)[0].in_year(year)


def window_on(plant: Plant, *, house: Household, on: date) -> PlantWindow | None:
    """How one plant stands on a day, whatever its law; None where its days are not known."""
    if not _has_window(plant, house):
        return None
    window, shift = _window_here(plant, house)
    return _plant_window(plant, window.nearest(on), on=on, shift=shift)


def grouped(found: Iterable[PlantWindow]) -> dict[str, list[PlantWindow]]:
    """Those going over, open and still to come, each plant once."""
    found = list(found)
    return {
        "going_over": closing(found),
        "open": [w for w in open_now(found) if w.state is WindowState.OPEN],
        "showing": [w for w in next_to_open(found) if w.state is WindowState.SHOWING],
        "coming": [w for w in next_to_open(found) if w.state is WindowState.NOT_YET],
    }


def open_now(found: Iterable[PlantWindow]) -> list[PlantWindow]:
    """Those that can be picked, soonest over first."""
    return sorted((w for w in found if w.state in OPEN_STATES), key=lambda w: (w.last, w.first))


def next_to_open(found: Iterable[PlantWindow]) -> list[PlantWindow]:
    """Those still to come, soonest first."""
    return _by_first_day(w for w in found if w.state in COMING_STATES)


def closing(found: Iterable[PlantWindow]) -> list[PlantWindow]:
    """Those going over, soonest over first."""
    return [w for w in open_now(found) if w.state is WindowState.GOING_OVER]


def shift_of(plant: Plant, house: Household) -> Shift:
    """How far the house moves a catalogue window; the house's own windows stay where they are."""
    if plant.own:
        return Shift()
    origin = Place(
        latitude=plant.reference_latitude_thousandths / 1000,
        longitude=BRITISH_LONGITUDE,
        height_m=plant.reference_height_m,
    )
    target = Place(
        latitude=house.latitude,
        longitude=BRITISH_LONGITUDE if house.country in BRITISH_COUNTRIES else OTHER_LONGITUDE,
        height_m=max(house.height_m, LOWEST_PLACE_M),
    )
    kind = shift_kind_of(plant)
    return Shift(
        days=place_shift(origin=origin, target=target, kind=kind),
        cautions=place_cautions(origin=origin, target=target, kind=kind),
    )


def shift_kind_of(plant: Plant) -> ShiftKind:
    """As the catalogue has it by growth stage, day and cue; others by their own mark."""
    otherwise = ShiftKind.LATE_FRUIT if plant.late_fruit else ShiftKind.SPRING
    return _catalogue_kinds().get(plant.slug, otherwise)


@cache
def _catalogue_kinds() -> dict[str, ShiftKind]:
    return {plant.key: plant.shift_kind for plant in catalogue()}


def _pickable(house: Household) -> list[Plant]:
    return [
        plant
        for plant in Plant.objects.order_by("pk")
        if not plant.must_not_be_used and _has_window(plant, house) and _grows_at(plant, house)
    ]


def _has_window(plant: Plant, house: Household) -> bool:
    """Whether its days are known here; the catalogue's do not hold south of the equator."""
    days = (plant.first_day, plant.peak_day, plant.last_day)
    return None not in days and (plant.own or house.latitude_thousandths >= 0)


def _grows_at(plant: Plant, house: Household) -> bool:
    american = plant.legal_class == LegalClass.NORTH_AMERICA
    return not american or house.country in AMERICAN_COUNTRIES


def _window_here(plant: Plant, house: Household) -> tuple[Window, Shift]:
    shift = shift_of(plant, house)
    there = Window(plant.first_day, plant.peak_day, plant.last_day)
    return there.shifted(shift.days), shift


def _plant_window(plant: Plant, dated: DatedWindow, *, on: date, shift: Shift) -> PlantWindow:
    state = dated.state(on)
    return PlantWindow(
        plant=plant,
        first=dated.first,
        peak=dated.peak,
        last=dated.last,
        state=state,
        days_left=(dated.last - on).days + 1 if state in OPEN_STATES else None,
        spread_days=round(half_width_days()),
        shift_days=round(shift.days),
        cautions=shift.cautions,
    )


def _by_first_day(found: Iterable[PlantWindow]) -> list[PlantWindow]:
    return sorted(found, key=lambda w: (w.first, w.last, w.plant.common_name))
