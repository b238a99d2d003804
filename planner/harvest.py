"""What can be picked now, what opens next, and how sure is that in this house?"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from inventory.models import Household
from planner import openings, spots
from planner.catalogue import LegalClass
from planner.models import Patch, Plant
from planner.openings import Opening
from planner.phenology import (
    DatedWindow,
    WindowState,
)
from planner.spots import Known, Shift, known

OPEN_STATES = (WindowState.OPEN, WindowState.GOING_OVER)
COMING_STATES = (WindowState.NOT_YET, WindowState.SHOWING)
# ISO 3166-1: the countries of the catalogue's American rows.
AMERICAN_COUNTRIES = ("US", "CA")


@dataclass(frozen=True)
class PlantWindow:
    """One plant's window at this house, or at a patch: first, best and last day, all included.

    `days_left` counts the days for picking from the day asked for, that day included; it is None
    unless the plant is open. It opens from `earliest` to `latest` in four years out of five.
    """

    plant: Plant
    first: date
    peak: date
    last: date
    state: WindowState
    days_left: int | None
    shift_days: int
    cautions: tuple[str, ...]
    opening: Opening
    patch: Patch | None = None

    @property
    def earliest(self) -> date:
        return self.opening.earliest

    @property
    def latest(self) -> date:
        return self.opening.latest


def windows(*, house: Household, on: date, held: Known | None = None) -> list[PlantWindow]:
    """The window each plant stands nearest to on a day, by first day; seven queries, one with `held`.

    Plants that must not be used are left out, and so are those that grow elsewhere.
    """
    held = held or known(house)
    found = [_nearest(plant, house, held, on) for plant in _pickable(house)]
    return _by_first_day(found)


def windows_between(
    *,
    house: Household,
    start: date,
    end: date,
    on: date,
    plants: Iterable[Plant] | None = None,
    held: Known | None = None,
) -> list[PlantWindow]:
    """Every window with a day from start to end, both included, by first day.

    Seven queries; one for the plants less where they are given, none where `held` is too.
    """
    found = []
    held = held or known(house)
    for plant in _pickable(house) if plants is None else plants:
        spot, shift = spots.spot(plant, house, held), spots.shift_of(plant, house)
        for year in range(start.year - 1, end.year + 1):
            opened = openings.opening(spot, year, on=on, weather=held.weather)
            if opened.window.touches(start, end):
                found.append(_plant_window(plant, opened, on=on, shift=shift))
    return _by_first_day(found)


def window_of(
    plant: Plant, year: int, house: Household, *, on: date | None = None
) -> DatedWindow | None:
    """The window of a plant that opens in a year; None where its days are not known."""
    if not _has_window(plant, house):
        return None
    held = known(house, [plant])
    spot = spots.spot(plant, house, held)
    on = on or date(year, 1, 1)
    return openings.opening(spot, year, on=on, weather=held.weather).window


def window_on(
    plant: Plant, *, house: Household, on: date, held: Known | None = None
) -> PlantWindow | None:
    """How one plant stands on a day, whatever its law; None where its days are not known.

    Six queries, none where `held` is given.
    """
    if not _has_window(plant, house):
        return None
    return _nearest(plant, house, held or known(house, [plant]), on)


def windows_by_patch(
    plant: Plant, *, house: Household, on: date, patches: Iterable[Patch], held: Known
) -> list[PlantWindow]:
    """How a plant stands at each of these patches; asks the database nothing.

    A patch that was seen open this season speaks to the others.
    """
    year = _nearest(plant, house, held, on).first.year
    there = {patch: spots.spot(plant, house, held, patch) for patch in patches}
    told = {}
    for patch, spot in there.items():
        opened = openings.opening(spot, year, on=on)
        if opened.seen:
            told[patch] = openings.neighbour(spot, year, opened, str(patch))
    at_house = spots.shift_of(plant, house)
    found = []
    for patch, spot in there.items():
        others = [cue for other, cue in told.items() if other != patch]
        opened = openings.opening(spot, year, on=on, weather=held.weather, neighbours=others)
        days = at_house.days + spots.patch_shift(plant, house, patch)
        shift = Shift(days, at_house.cautions)
        found.append(_plant_window(plant, opened, on=on, shift=shift, patch=patch))
    return found


def years_at(
    plant: Plant,
    *,
    house: Household,
    held: Known,
    on: date,
    years: Iterable[int],
    patch: Patch | None = None,
) -> list[DatedWindow]:
    """The window of each of these years at the house or a patch; asks the database nothing."""
    spot = spots.spot(plant, house, held, patch)
    return [openings.opening(spot, year, on=on, weather=held.weather).window for year in years]


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


def _nearest(plant: Plant, house: Household, held: Known, on: date) -> PlantWindow:
    """The season a day belongs to: the one it lies in, else the nearer of its neighbours."""
    spot, shift = spots.spot(plant, house, held), spots.shift_of(plant, house)
    year = spot.usual.nearest(on).first.year
    here = openings.opening(spot, year, on=on, weather=held.weather)
    if on < here.window.first:
        before = openings.opening(spot, year - 1, on=on, weather=held.weather)
        here = before if on <= before.window.last else here
    elif on > here.window.last:
        after = openings.opening(spot, year + 1, on=on, weather=held.weather)
        here = after if on >= after.window.first else here
    return _plant_window(plant, here, on=on, shift=shift)


def _plant_window(
    plant: Plant, opened: Opening, *, on: date, shift: Shift, patch: Patch | None = None
) -> PlantWindow:
    dated = opened.window
    state = dated.state(on)
    return PlantWindow(
        plant=plant,
        first=dated.first,
        peak=dated.peak,
        last=dated.last,
        state=state,
        days_left=(dated.last - on).days + 1 if state in OPEN_STATES else None,
        shift_days=round(shift.days),
        cautions=shift.cautions,
        opening=opened,
        patch=patch,
    )


def _by_first_day(found: Iterable[PlantWindow]) -> list[PlantWindow]:
    return sorted(found, key=lambda w: (w.first, w.last, w.plant.common_name))
