"""What can be picked now, what opens next, and how sure is that in this house?"""

from collections.abc import Iterable
from dataclasses import dataclass, field
from datetime import date
from functools import cache

from inventory.models import Household
from planner import openings, sightings, weather
from planner.catalogue import LegalClass, catalogue
from planner.models import Patch, Plant
from planner.openings import Opening
from planner.phenology import (
    BRITAIN,
    DatedWindow,
    Place,
    ShiftKind,
    Weather,
    Window,
    WindowState,
    place_cautions,
    place_shift,
)
from planner.sightings import Sightings

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


@dataclass(frozen=True)
class Shift:
    """Days later at the house than where the catalogue has it from, and what to doubt about it."""

    days: float = 0.0
    cautions: tuple[str, ...] = ()


@dataclass(frozen=True)
class Known:
    """What the house itself knows: what was seen and picked, and its weather."""

    seen: Sightings = field(default_factory=Sightings)
    weather: Weather | None = None


def known(house: Household, plants: Iterable[Plant] | None = None) -> Known:
    """All of it, or of these plants; six queries, a few more when the weather changed."""
    keys = None if plants is None else [plant.pk for plant in plants]
    return Known(sightings.seen(keys), weather.here(house))


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
        spot, shift = _spot(plant, house, held)
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
    spot, _ = _spot(plant, house, held)
    on = on or date(year, 1, 1)
    return openings.opening(spot, year, on=on, weather=held.weather).window


def window_on(plant: Plant, *, house: Household, on: date) -> PlantWindow | None:
    """How one plant stands on a day, whatever its law; None where its days are not known."""
    if not _has_window(plant, house):
        return None
    return _nearest(plant, house, known(house, [plant]), on)


def windows_by_patch(
    plant: Plant, *, house: Household, on: date, patches: Iterable[Patch], held: Known
) -> list[PlantWindow]:
    """How a plant stands at each of these patches; asks the database nothing.

    A patch that was seen open this season speaks to the others.
    """
    patches = list(patches)
    year = _nearest(plant, house, held, on).first.year
    told = [
        (
            patch,
            openings.neighbour_of(seen, _usual_day(plant, house, held, patch, year), str(patch)),
        )
        for patch in patches
        for seen in [_at_patch(plant, house, held, patch, year, on)]
        if seen.seen
    ]
    found = []
    for patch in patches:
        others = [cue for other, cue in told if other != patch]
        opened = _at_patch(plant, house, held, patch, year, on, others[0] if others else None)
        shift = Shift(_patch_shift(plant, house, patch) + shift_of(plant, house).days)
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
    spot, _ = _spot(plant, house, held, patch)
    return [openings.opening(spot, year, on=on, weather=held.weather).window for year in years]


def _at_patch(plant, house, held, patch, year, on, neighbour=None) -> Opening:
    spot, _ = _spot(plant, house, held, patch)
    return openings.opening(spot, year, on=on, weather=held.weather, neighbour=neighbour)


def _usual_day(plant, house, held, patch, year) -> date:
    spot, _ = _spot(plant, house, held, patch)
    blind = openings.opening(
        openings.Spot(
            plant, spot.usual, spot.kind, {y: s for y, s in spot.seasons.items() if y < year}
        ),
        year,
        on=date(year, 1, 1),
    )
    return blind.window.first


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


def _spot(
    plant: Plant, house: Household, held: Known, patch: Patch | None = None
) -> tuple[openings.Spot, Shift]:
    shift = shift_of(plant, house)
    usual = Window(plant.first_day, plant.peak_day, plant.last_day).shifted(shift.days)
    more = 0.0 if patch is None else _patch_shift(plant, house, patch)
    spot = openings.spot_of(
        plant,
        usual=usual,
        kind=shift_kind_of(plant),
        seen=held.seen,
        patch=patch,
        patch_shift=more,
    )
    return spot, shift


def _patch_shift(plant: Plant, house: Household, patch: Patch) -> float:
    """Days later at a patch than at the house: by its height, and by what somebody said of it."""
    if patch.height_m is None:
        return float(patch.later_days)
    up = BRITAIN.days_per_100_m * (patch.height_m - house.height_m) / 100
    return shift_kind_of(plant).scale * up + patch.later_days


def _nearest(plant: Plant, house: Household, held: Known, on: date) -> PlantWindow:
    """The season a day belongs to: the one it lies in, else the nearer of its neighbours."""
    spot, shift = _spot(plant, house, held)
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
