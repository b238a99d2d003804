"""Will it fit: which open vessel under its foam room, and which closed ones with least topping up?"""

from collections.abc import Sequence
from dataclasses import dataclass
from decimal import Decimal

from inventory.fit import Fit, fit
from inventory.models import Vessel
from inventory.models.vessels import VesselKind
from planner.occupancies import FOAM_SHARE

PERCENT = 100


@dataclass(frozen=True)
class Room:
    """An open vessel, what of it is usable under its foam room, and whether that is enough."""

    vessel: Vessel
    usable: int
    fits: bool


@dataclass(frozen=True)
class Closed:
    """What is left after the lees, and the vessels for it; `found` none where all hold too little."""

    volume: int
    found: Fit | None
    names: tuple[str, ...]
    held: int

    @property
    def short(self) -> int:
        return max(0, self.volume - self.held)


def vessels_in_use_here() -> list[Vessel]:
    """Every vessel that is not put away, the largest first; one query."""
    return list(Vessel.objects.filter(archived=False).order_by("-brimful", "name"))


def open_rooms(vessels: Sequence[Vessel], volume: int) -> list[Room]:
    """The open vessels, smallest first; asks the database nothing."""
    found = [vessel for vessel in reversed(vessels) if vessel.kind == VesselKind.OPEN]
    usable = [round(vessel.brimful * (1 - FOAM_SHARE)) for vessel in found]
    return [Room(vessel, room, room >= volume) for vessel, room in zip(found, usable, strict=True)]


def closed(vessels: Sequence[Vessel], pressed: int, *, loss_percent: Decimal) -> Closed:
    """The closed vessels for what is left when the lees stay behind; asks the database nothing."""
    volume = round(pressed * (1 - loss_percent / PERCENT))
    jars = [vessel for vessel in vessels if vessel.kind == VesselKind.CLOSED]
    found = fit([jar.brimful for jar in jars], volume)
    return Closed(volume, found, tuple(_names(jars, found)), sum(jar.brimful for jar in jars))


def _names(jars: Sequence[Vessel], found: Fit | None) -> list[str]:
    """Which ones: of each size the first by name."""
    if found is None:
        return []
    return [
        jar.name
        for size, count in found.counts
        for jar in [jar for jar in jars if jar.brimful == size][:count]
    ]
