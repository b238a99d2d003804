"""What would the hydrometer have shown at its own temperature?"""

from planner.chemistry.alcohol import extract_abv
from planner.chemistry.density import (
    alcohol_of_abv_kg_per_m3,
    sugar_solution_kg_per_m3,
    unchecked_sugar_solution,
    water_kg_per_m3,
)
from planner.chemistry.figure import Rule, follows
from planner.chemistry.gravity import STANDARD_C, gravity_of_brix
from planner.chemistry.ranges import within
from planner.chemistry.roots import root

MUST_RULE = Rule(
    "hydrometer in must",
    "ICUMSA SPS-4 and the glass of ISO 1768:1975",
    "unfermented must, 0 to 60 degC, instrument for 10 to 25 degC",
)
WINE_RULE = Rule(
    "hydrometer in wine",
    "OIML R22, ICUMSA SPS-4 and the glass of ISO 1768:1975",
    "wine to 25 % vol, 0 to 40 degC, instrument for 10 to 25 degC",
)
SHORTCUT_RULE = Rule(
    "ratio of water densities",
    "kitchen shortcut, compared with the full method",
    "0 to 40 degC; 0.0003 out to 1.050, 0.0012 out at 1.110",
)

# ISO 1768:1975, cubic expansion of hydrometer glass per degC.
GLASS_PER_C = 25e-6
# Stronger than any ferment; the wine rule ends here.
HIGHEST_ABV = 25.0


def _check(reading: float, sample_c: float, calibration_c: float, hottest_c: float) -> None:
    within(reading, 0.95, 1.2, name="reading")
    within(sample_c, 0, hottest_c, name="sample temperature", unit="degC")
    within(calibration_c, 10, 25, name="hydrometer's temperature", unit="degC")


def _float_density(sample_c: float, calibration_c: float) -> float:
    """Density at the mark 1.000 of an instrument used at another temperature than its own."""
    glass = 1 - GLASS_PER_C * (sample_c - calibration_c)
    return water_kg_per_m3(temperature_c=calibration_c) * glass


@follows(MUST_RULE, unit="SG")
def must_gravity(
    *,
    reading: float,
    sample_c: float,
    calibration_c: float = STANDARD_C,
    reference_c: float = STANDARD_C,
) -> float:
    """True gravity of an unfermented must, `reference_c` over the same."""
    _check(reading, sample_c, calibration_c, 60)
    wanted = reading * _float_density(sample_c, calibration_c)

    def miss(brix: float) -> float:
        return sugar_solution_kg_per_m3(sugar_share=brix / 100, temperature_c=sample_c) - wanted

    if miss(0.0) > 0:
        raise ValueError(
            f"a must cannot read {reading:.4f} at {sample_c:g} degC: that is below water, so it "
            "holds alcohol"
        )
    return gravity_of_brix(brix=root(miss, 0.0, 60.0), reference_c=reference_c)


def _wine_kg_per_m3(extract_share: float, abv: float, temperature_c: float) -> float:
    alcohol = alcohol_of_abv_kg_per_m3(abv=abv, temperature_c=temperature_c)
    sugar = unchecked_sugar_solution(extract_share, temperature_c)
    return alcohol + sugar - unchecked_sugar_solution(0.0, temperature_c)


@follows(WINE_RULE, unit="SG")
def wine_gravity(
    *, reading: float, sample_c: float, abv: float, calibration_c: float = STANDARD_C
) -> float:
    """True gravity 20/20 of a wine whose strength is known, at least roughly."""
    _check(reading, sample_c, calibration_c, 40)
    within(abv, 0, HIGHEST_ABV, name="strength", unit="% vol")
    wanted = reading * _float_density(sample_c, calibration_c)
    share = root(lambda share: _wine_kg_per_m3(share, abv, sample_c) - wanted, -0.15, 0.6)
    at_reference = _wine_kg_per_m3(share, abv, STANDARD_C)
    return at_reference / _wine_kg_per_m3(0.0, 0.0, STANDARD_C)


@follows(WINE_RULE, unit="SG")
def wine_reading(
    *, gravity: float, sample_c: float, abv: float, calibration_c: float = STANDARD_C
) -> float:
    """What the instrument shows in a wine of known gravity 20/20."""
    _check(gravity, sample_c, calibration_c, 40)
    within(abv, 0, HIGHEST_ABV, name="strength", unit="% vol")
    wanted = gravity * _wine_kg_per_m3(0.0, 0.0, STANDARD_C)
    share = root(lambda share: _wine_kg_per_m3(share, abv, STANDARD_C) - wanted, -0.15, 0.6)
    return _wine_kg_per_m3(share, abv, sample_c) / _float_density(sample_c, calibration_c)


@follows(WINE_RULE, unit="SG")
def working_gravity(
    *, reading: float, sample_c: float, start_gravity: float, calibration_c: float = STANDARD_C
) -> float:
    """True gravity 20/20 in mid-ferment, the strength following from start and reading."""
    within(start_gravity, 1.0, 1.2, name="start gravity")
    gravity = abv = 0.0
    # Strength shifts the correction by less than 0.0001 per % vol, so this settles in a few turns.
    for _ in range(20):
        before = gravity
        gravity = wine_gravity(
            reading=reading, sample_c=sample_c, abv=abv, calibration_c=calibration_c
        )
        if abs(gravity - before) < 1e-9:
            break
        made = extract_abv(start_gravity=start_gravity, finish_gravity=min(gravity, start_gravity))
        abv = min(made, HIGHEST_ABV)
    return gravity


@follows(SHORTCUT_RULE, unit="SG")
def shortcut_gravity(
    *, reading: float, sample_c: float, calibration_c: float = STANDARD_C
) -> float:
    """The kitchen shortcut, named beside the full method."""
    _check(reading, sample_c, calibration_c, 40)
    at_home = water_kg_per_m3(temperature_c=calibration_c)
    return reading * at_home / water_kg_per_m3(temperature_c=sample_c)
