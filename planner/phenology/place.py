"""How many days later or earlier does a plant's event come at another place?

Days are positive for later. Latitudes are degrees north, longitudes degrees east.
"""

from dataclasses import dataclass
from enum import StrEnum
from math import isfinite

# Hopkins 1918-20 as given by secondary texts: 4 days a degree and a further 4 days for every
# 400 ft, which is 121.92 m.
_HOPKINS_DAYS = 4.0
_HOPKINS_HEIGHT_M = 121.92
# Jeffree 1960: his British observations span some 400 miles, 5.8 degrees of latitude.
_OBSERVED_DEGREES = 5.8
# Rough frame of the British Isles, degrees; from memory.
_BRITISH_LATITUDES = (49.0, 61.0)
_BRITISH_LONGITUDES = (-11.0, 2.0)


@dataclass(frozen=True)
class Place:
    """A spot on the northern half of the earth: degrees north, degrees east, metres up."""

    latitude: float
    longitude: float
    height_m: float
    name: str = ""
    normals: str = ""

    def __post_init__(self):
        # Bounds of height: the Dead Sea shore to Everest; from memory.
        limits = {"latitude": (0, 90), "longitude": (-180, 180), "height_m": (-430, 8849)}
        for field, (low, high) in limits.items():
            value = getattr(self, field)
            if not (isfinite(value) and low <= value <= high):
                raise ValueError(f"{field} must lie between {low} and {high}, not {value}.")

    @property
    def is_british(self) -> bool:
        south, north = _BRITISH_LATITUDES
        west, east = _BRITISH_LONGITUDES
        return south <= self.latitude <= north and west <= self.longitude <= east


@dataclass(frozen=True, kw_only=True)
class Gradient:
    """Days later for each degree north, each 100 m up and each degree east."""

    # Jeffree 1960, 11 British flowers 1891-1948: 21 days over some 400 miles, 3.63, rounded.
    days_per_degree_north: float = 3.6
    # Swiss cherry full bloom, station data 1961-2020: 3.1 to 4.0 by period and fit.
    days_per_100_m: float = 3.3
    # The sources disagree on the sign, so longitude counts for nothing.
    days_per_degree_east: float = 0.0


BRITAIN = Gradient()


class ShiftKind(StrEnum):
    """How an event follows the shift of spring events; see `scale`."""

    SPRING = "spring"
    LATE_FRUIT = "late fruit"
    FIRST_FROST = "first frost"

    @property
    def scale(self) -> float:
        # A judgement, no source: late fruit follows half the spring shift. Hopkins 1918-20:
        # autumn events run the other way, earlier northwards and uphill.
        return {"spring": 1.0, "late fruit": 0.5, "first frost": -1.0}[self.value]

    @property
    def allows_thermal_time(self) -> bool:
        """Sums of warmth carried from Oxford never come true for autumn fruit up north."""
        return self is ShiftKind.SPRING


def spring_shift(*, origin: Place, target: Place, gradient: Gradient = BRITAIN) -> float:
    """Days by which a spring event comes later at target than at origin."""
    north = gradient.days_per_degree_north * (target.latitude - origin.latitude)
    up = gradient.days_per_100_m * (target.height_m - origin.height_m) / 100
    east = gradient.days_per_degree_east * (target.longitude - origin.longitude)
    return north + up + east


def hopkins_shift(*, origin: Place, target: Place, days_per_degree_east: float = 0.0) -> float:
    """Days later by Hopkins' bioclimatic law: 4 a degree north and 4 for every 121.92 m up."""
    hopkins = Gradient(
        days_per_degree_north=_HOPKINS_DAYS,
        days_per_100_m=_HOPKINS_DAYS * 100 / _HOPKINS_HEIGHT_M,
        days_per_degree_east=days_per_degree_east,
    )
    return spring_shift(origin=origin, target=target, gradient=hopkins)


def place_shift(
    *,
    origin: Place,
    target: Place,
    kind: ShiftKind = ShiftKind.SPRING,
    gradient: Gradient = BRITAIN,
    site_days: float = 0.0,
) -> float:
    """Days later at target for an event of that kind.

    `site_days` is the spot's own lateness (frost hollow above 0, warm wall below); never scaled.
    """
    return kind.scale * spring_shift(origin=origin, target=target, gradient=gradient) + site_days


def place_cautions(*, origin: Place, target: Place, kind: ShiftKind) -> tuple[str, ...]:
    """What to doubt about a shift between these places, in sentences; empty if nothing."""
    reasons = {
        "The shift was measured on British spring flowers; outside the British Isles it is a guess.": (
            not (origin.is_british and target.is_british)
        ),
        "The place lies further north or south than the observations behind the shift reach.": (
            abs(target.latitude - origin.latitude) > _OBSERVED_DEGREES
        ),
        "Late fruit is moved by half the spring shift: a judgement, not a measurement.": (
            kind is ShiftKind.LATE_FRUIT
        ),
        "Frost comes earlier northwards and uphill, so the shift is turned round: a judgement.": (
            kind is ShiftKind.FIRST_FROST
        ),
    }
    return tuple(sentence for sentence, holds in reasons.items() if holds)
