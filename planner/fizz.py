"""How much sugar does a size of bottle get, and how hard will it press? Pure."""

from dataclasses import dataclass

from planner import gates
from planner.chemistry import carbonation, pressure
from planner.chemistry.density import sugar_solution_kg_per_m3
from planner.chemistry.figure import Figure

# A bottle whose brimful capacity nobody measured: sparkling ullage of 2.5 % of its fill, from memory.
USUAL_ULLAGE = 0.025
# Where nobody says how warm a place gets; common practice, no source.
WARM_ROOM_C = 30.0
ROOM_C = 20.0
# A syrup of equal weights of sugar and water; common practice, no source.
SYRUP_SHARE = 0.5
NOT_FOR_PRESSURE = "not for pressure"
# A hair under the line up to which a gate says go, so that no rounding passes it.
NEAR = 0.799


@dataclass(frozen=True, slots=True)
class Wine:
    """What is in the vessel: its strength, the gas it holds, and what its own sugar still makes."""

    abv: float
    residual_g_per_l: float
    unfinished_g_per_l: float = 0.0

    @property
    def held_g_per_l(self) -> float:
        return self.residual_g_per_l + self.unfinished_g_per_l


@dataclass(frozen=True, slots=True)
class Glass:
    """A size of bottle with what shuts it, in litres and bar over atmosphere; none is not known."""

    fill_l: float
    brimful_l: float | None
    bottle_bar: float | None
    closure_bar: float | None

    @property
    def rated_bar(self) -> float | None:
        if self.bottle_bar is None or self.closure_bar is None:
            return None
        return min(self.bottle_bar, self.closure_bar)

    @property
    def room_l(self) -> float:
        return self.brimful_l or self.fill_l * (1 + USUAL_ULLAGE)


@dataclass(frozen=True, slots=True)
class Pressed:
    """One size at its target: the dose, the pressures, what it may have at most, and the verdict."""

    volumes: float
    co2_g_per_l: float
    dose_g_per_l: float
    dose_g: float
    at_20: Figure
    at_ordinary: Figure
    at_warmest: Figure
    most_volumes: float | None
    most_dose_g: float | None
    verdict: gates.Verdict
    word: str


def wine(*, warmest_c: float, abv: float, gravity: float | None, finish: float | None) -> Wine:
    """What is in a wine that stood open, by the warmest since it was quiet and what is unfinished.

    Raises ValueError outside the range of the solubility (0 to 40 degC, 0 to 20 % vol).
    """
    coming = 0.0
    if gravity is not None and finish is not None:
        coming = carbonation.unfinished_co2_g_per_l(gravity=gravity, finish_gravity=finish)
    held = carbonation.residual_co2_g_per_l(warmest_c=warmest_c, abv=abv)
    return Wine(abv, held, coming)


def press(
    in_vessel: Wine,
    glass: Glass,
    *,
    volumes: float,
    kind: str,
    ordinary_c: float | None,
    warmest_c: float | None,
    lower: bool = False,
) -> Pressed:
    """What one size gets for a target in volumes of CO2; `lower` keeps it under four fifths of the rating.

    Raises ValueError where the wine holds more than is wanted, or a formula does not reach.
    """
    warm = WARM_ROOM_C if warmest_c is None else warmest_c
    most = _most(in_vessel, glass, glass.rated_bar, warm)
    target = carbonation.co2_of_volumes_g_per_l(volumes=volumes)
    if lower and glass.rated_bar is not None:
        target = min(target, _most(in_vessel, glass, NEAR * glass.rated_bar, warm))
    dose = carbonation.priming_sugar_g_per_l(
        target_co2_g_per_l=target,
        residual_co2_g_per_l=in_vessel.residual_g_per_l,
        unfinished_co2_g_per_l=in_vessel.unfinished_g_per_l,
        kind=kind,
    )
    at_warmest = gauge(in_vessel, glass, target, warm)
    most_volumes = None if most is None else carbonation.volumes_of_co2(co2_g_per_l=most)
    return Pressed(
        volumes=carbonation.volumes_of_co2(co2_g_per_l=target),
        co2_g_per_l=target,
        dose_g_per_l=dose,
        dose_g=dose * glass.fill_l,
        at_20=gauge(in_vessel, glass, target, ROOM_C),
        at_ordinary=gauge(in_vessel, glass, target, ROOM_C if ordinary_c is None else ordinary_c),
        at_warmest=at_warmest,
        most_volumes=most_volumes,
        most_dose_g=_dose_of(in_vessel, most, kind, glass.fill_l),
        verdict=gates.pressure(
            gauge_bar=at_warmest.value,
            bottle_rated_bar=glass.bottle_bar,
            closure_rated_bar=glass.closure_bar,
            most_volumes=most_volumes,
        ),
        word=word_of(at_warmest.value, glass),
    )


def syrup_ml(dose_g: float) -> float:
    """Millilitres of a syrup that is half sugar by weight, for a dose of sugar."""
    return dose_g / (SYRUP_SHARE * sugar_solution_kg_per_m3(sugar_share=SYRUP_SHARE) / 1000)


def spooned_volumes(in_vessel: Wine, *, fill_l: float, spoon_g: float, kind: str) -> float:
    """The fizz that a spoon of sugar in each bottle would give, whatever its size."""
    gas = in_vessel.held_g_per_l + spoon_g / fill_l * carbonation.CO2_PER_GRAM[kind]
    return carbonation.volumes_of_co2(co2_g_per_l=gas)


def word_of(bar: float, glass: Glass) -> str:
    """within, near, over the bottle or over the closure; not for pressure where a rating is not known."""
    if glass.bottle_bar is None or glass.closure_bar is None:
        return NOT_FOR_PRESSURE
    if bar > glass.bottle_bar:
        return "over the bottle"
    if bar > glass.closure_bar:
        return "over the closure"
    return "near" if bar > gates.NEAR_SHARE * glass.rated_bar else "within"


def gauge(in_vessel: Wine, glass: Glass, co2_g_per_l: float, temperature_c: float) -> Figure:
    """The pressure over the atmosphere at a temperature."""
    return pressure.gauge_bar.figure(
        co2_g_per_l=co2_g_per_l,
        fill_l=glass.fill_l,
        brimful_l=glass.room_l,
        temperature_c=temperature_c,
        abv=in_vessel.abv,
    )


def _most(in_vessel: Wine, glass: Glass, rated_bar: float | None, warm: float) -> float | None:
    if rated_bar is None:
        return None
    return pressure.most_co2_g_per_l(
        rated_gauge_bar=rated_bar,
        fill_l=glass.fill_l,
        brimful_l=glass.room_l,
        temperature_c=warm,
        abv=in_vessel.abv,
    )


def _dose_of(in_vessel: Wine, co2: float | None, kind: str, fill_l: float) -> float | None:
    """Grams of priming sugar that bring a bottle to so much gas; none where it holds more already."""
    if co2 is None or co2 < in_vessel.held_g_per_l:
        return None
    return fill_l * (co2 - in_vessel.held_g_per_l) / carbonation.CO2_PER_GRAM[kind]
