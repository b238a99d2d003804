"""Priming, pressure and what a pressure may be called."""

from collections.abc import Mapping
from typing import Any

from planner.bench.asks import (
    SIZES,
    Answer,
    Ask,
    Line,
    Sum,
    choice,
    gravity,
    litres,
    strength,
    warmth,
)
from planner.chemistry import carbonation as gas
from planner.chemistry import pressure
from planner.chemistry.figure import Figure
from planner.chemistry.fizz_law import FIZZ_RULE, classes_at

Values = Mapping[str, Any]
PRESSURE = (
    "Bottles under pressure burst. Goggles and thick gloves on, a towel over them, away from "
    "people; open them cold.",
    "A rating that is not known counts as not for pressure. No figure here says that a bottle "
    "will hold.",
)
# A dose is weighed: common practice, no source.
NEVER_BY_SPOON = "Weigh the sugar; a spoon holds 15 to 25 % more or less from one time to the next."


def _priming(values: Values) -> Answer:
    abv, kind = values["abv"], values["kind"]
    target = gas.co2_of_volumes_g_per_l(volumes=values["volumes"])
    held = gas.residual_co2_g_per_l(warmest_c=values["warmest_c"], abv=abv)
    coming = _unfinished(values)
    dose = gas.priming_sugar_g_per_l.figure(
        target_co2_g_per_l=target,
        residual_co2_g_per_l=held,
        unfinished_co2_g_per_l=coming,
        kind=kind,
    )
    lines = [
        Line("Sugar for each litre", dose, main=True),
        *_per_bottle(values["sizes"], dose),
    ]
    if values["volume"]:
        lines.append(Line("For all of it", _scaled(dose, values["volume"]), main=True))
    lines += [
        Line("Gas still in it", gas.volumes_of_co2.figure(co2_g_per_l=held)),
        Line("Gas wanted", gas.co2_of_volumes_g_per_l.figure(volumes=values["volumes"])),
    ]
    if coming:
        lines.append(Line("Gas still to come from unfinished sugar", _grams_per_litre(coming)))
    return Answer(tuple(lines), (NEVER_BY_SPOON,), addition=("priming", "For all of it"))


def _unfinished(values: Values) -> float:
    now, finish = values["now"], values["finish"]
    if now is None or finish is None:
        return 0.0
    return gas.unfinished_co2_g_per_l(gravity=now, finish_gravity=finish)


def _grams_per_litre(value: float) -> Figure:
    return gas.PRIMING_RULE.figure(value, "g/L")


def _scaled(dose: Figure, litres_in_all: float) -> Figure:
    return gas.PRIMING_RULE.figure(dose.value * litres_in_all, "g")


def _per_bottle(sizes: list[float] | None, dose: Figure) -> list[Line]:
    return [Line(f"In a bottle of {1000 * size:g} mL", _scaled(dose, size)) for size in sizes or ()]


PRIMING = Sum(
    "priming",
    "Sugar for the fizz",
    "Priming sugar by the litre, by the bottle and in bulk, what is still in the wine counted.",
    (
        Ask("volumes", "Fizz wanted, in volumes", low=0, high=8, named="volumes"),
        warmth("warmest_c", "Warmest it has been since it stopped working", named="temperature"),
        strength(),
        choice(
            "kind",
            "Sugar",
            {
                "sucrose": "white sugar",
                "glucose monohydrate": "dextrose (glucose monohydrate)",
                "hexose": "glucose or fructose, without water",
                "honey": "honey",
            },
        ),
        litres("volume", "All of the wine", required=False),
        Ask(
            "sizes",
            "Bottle sizes",
            SIZES,
            required=False,
            help="For example 750 mL, 500 mL, 330 mL.",
        ),
        gravity("now", "Gravity now", required=False, help="If it is not at its finish yet."),
        gravity("finish", "Finish expected", required=False),
    ),
    _priming,
    cautions=PRESSURE,
    words="priming carbonation sugar bottle fizz volumes",
)


def _pressure(values: Values) -> Answer:
    bottle = {
        "fill_l": values["fill"],
        "brimful_l": values["brimful"],
        "abv": values["abv"],
    }
    co2 = gas.co2_of_volumes_g_per_l(volumes=values["volumes"])
    warm = values["warmest_c"]
    at_20 = pressure.gauge_bar.figure(co2_g_per_l=co2, temperature_c=20.0, **bottle)
    hottest = pressure.gauge_bar.figure(co2_g_per_l=co2, temperature_c=warm, **bottle)
    lines = [
        Line(f"Over the atmosphere at {warm:g} °C", hottest, main=True),
        Line("At 20 °C", at_20),
    ]
    rated = values["rated"]
    if rated is None:
        return Answer(tuple(lines), ("No rating is known: it counts as not for pressure.",))
    most = pressure.most_co2_g_per_l(rated_gauge_bar=rated, temperature_c=warm, **bottle)
    lines += [
        Line("Most it may have", gas.volumes_of_co2.figure(co2_g_per_l=most), main=True),
        Line("Of the rating", pressure.BOTTLE_RULE.figure(100 * hottest.value / rated, "%")),
    ]
    return Answer(tuple(lines), (verdict(hottest.value, rated),))


def verdict(bar: float, rated: float) -> str:
    """In words: within, near (from four fifths on) or over the rating."""
    if bar > rated:
        return "Over the rating: stop. Less sugar, a cooler place, or a bottle rated for more."
    if bar > 0.8 * rated:
        return "Near the rating (over 80 %): look again."
    return "Within the rating by the 80 % line; bottles still fail, keep them boxed and cool."


PRESSED = Sum(
    "pressure",
    "Pressure in a bottle",
    "The pressure over the atmosphere in a closed bottle, at 20 °C and at the warmest it will lie.",
    (
        Ask("volumes", "Gas in it, in volumes", low=0, high=8, named="volumes"),
        litres("fill", "Filled with", initial="750 mL", named="fill|a fill"),
        litres("brimful", "Holds to the brim", initial="775 mL", named="brimful capacity"),
        strength(),
        warmth("warmest_c", "Warmest place it will lie", named="temperature"),
        Ask(
            "rated",
            "Rated gauge pressure of the weaker of bottle and closure, bar",
            low=0.1,
            high=19,
            required=False,
            help="Empty: not known.",
            named="rating",
        ),
    ),
    _pressure,
    cautions=PRESSURE,
    words="pressure burst bar bottle rating head space",
)


def _units(values: Values) -> Answer:
    co2 = gas.co2_of_volumes_g_per_l.figure(volumes=values["volumes"])
    bar = gas.VOLUME_RULE.figure
    lines = [Line("Grams in a litre", co2, main=True)]
    at = values["temperature_c"]
    held = gas.solubility_g_per_l_bar(temperature_c=at, abv=values["abv"])
    excess = co2.value / held + gas.water_vapour_bar(temperature_c=at) - gas.ATMOSPHERE_BAR
    rule = gas.SOLUBILITY_RULE
    lines.append(Line(f"Over the atmosphere at {at:g} °C", rule.figure(excess, "bar"), main=True))
    lines.append(Line("One volume", bar(gas.G_PER_L_PER_VOLUME, "g/L")))
    held_20 = gas.solubility_g_per_l_bar(temperature_c=20.0, abv=values["abv"])
    at_20 = co2.value / held_20 + gas.water_vapour_bar(temperature_c=20.0) - gas.ATMOSPHERE_BAR
    names = [found.name for found in classes_at(excess_bar=min(20, max(0.0, at_20)))]
    says = ", ".join(names) if names else "none of the terms for sparkling wine"
    return Answer(tuple(lines), (f"By pressure at 20 °C: {says} ({FIZZ_RULE.validity}).",))


UNITS = Sum(
    "fizz-units",
    "Volumes, grams and bar",
    "The same fizz said in three ways, and what it may be called.",
    (
        Ask("volumes", "Gas in it, in volumes", low=0, high=10, named="volumes"),
        warmth("temperature_c", "Temperature", initial="20 C", named="temperature"),
        strength(),
    ),
    _units,
    cautions=PRESSURE,
    words="carbonation units co2 volumes bar grams legal sparkling",
)

SUMS = (PRIMING, PRESSED, UNITS)
