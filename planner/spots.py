"""Where does a plant stand, how does the place move its usual days, and what was seen of it there?"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import date
from functools import cache, cached_property

from inventory.models import Household
from planner import sightings, weather
from planner.catalogue import catalogue
from planner.models import Patch, Plant
from planner.phenology import (
    BRITAIN,
    Place,
    Seen,
    ShiftKind,
    Weather,
    Window,
    by_season,
    place_cautions,
    place_shift,
)
from planner.phenology.seasons import Season
from planner.sightings import Sightings

# ISO 3166-1: the countries of the British Isles.
BRITISH_COUNTRIES = ("GB", "IE", "IM", "GG", "JE")
# The house keeps no longitude and none counts in the shift: these only say British or not.
BRITISH_LONGITUDE, OTHER_LONGITUDE = -2.0, 10.0
# The shore of the Dead Sea, the lowest the shift knows; from memory.
LOWEST_PLACE_M = -430


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


@dataclass(frozen=True)
class Spot:
    """A plant at the house or at a patch: its usual window there, and what was seen of it there.

    `seasons` are those seen there, brought to the spot; `cues` the days on which its cue was seen.
    """

    plant: Plant
    usual: Window
    kind: ShiftKind
    seasons: Mapping[int, Season]
    cues: Sequence[date] = ()
    usual_words: str = "the catalogue, for this place"

    @cached_property
    def lasts(self) -> int:
        """Days open for picking: as the house says, else as the catalogue has it."""
        return self.plant.lasts_days or self.usual.length_days

    @cached_property
    def peaks_after(self) -> float:
        """The share of those days after which it is best."""
        return (self.usual.peak - self.usual.first) % 365 / max(1, self.usual.length_days - 1)

    def own_dates(self, before: int) -> list[tuple[int, Seen]]:
        """First openings of the seasons before a year, oldest first."""
        return [
            (year, Seen(season.opened, season.is_exact))
            for year, season in sorted(self.seasons.items())
            if year < before and season.opened is not None
        ]

    def without(self, year: int) -> "Spot":
        """The spot as if nothing had been seen from that season on."""
        past = {season: seen for season, seen in self.seasons.items() if season < year}
        return replace(self, seasons=past, cues=())


def spot(plant: Plant, house: Household, held: Known, patch: Patch | None = None) -> Spot:
    """The plant at the house by everything seen of it, or at one patch by what was seen there."""
    usual = Window(plant.first_day, plant.peak_day, plant.last_day).shifted(
        shift_of(plant, house).days
    )
    kind, cues = shift_kind_of(plant), held.seen.cues.get(plant.cue, ())
    if patch is not None:
        here = usual.shifted(patch_shift(plant, house, patch))
        seen = by_season([(0.0, held.seen.at(plant, patch))], here)
        return Spot(plant, here, kind, seen, cues, f"the catalogue, for {patch}")
    groups = [
        (patch_shift(plant, house, there) if there else 0.0, seen)
        for there, seen in held.seen.by_patch(plant)
    ]
    return Spot(plant, usual, kind, by_season(groups, usual), cues)


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


def patch_shift(plant: Plant, house: Household, patch: Patch) -> float:
    """Days later at a patch than at the house: by its height, and by what somebody said of it."""
    if patch.height_m is None:
        return float(patch.later_days)
    up = BRITAIN.days_per_100_m * (patch.height_m - house.height_m) / 100
    return shift_kind_of(plant).scale * up + patch.later_days
