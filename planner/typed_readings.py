"""What do people write when they read a hydrometer or a thermometer?"""

import re

from inventory.typed import Fault, plain, read_number, refusal
from planner.chemistry.gravity import gravity_of_apparent_brix, gravity_of_oechsle

# A reading may end in one of these; a bare number is judged by its size.
SCALE = re.compile(
    r"(?P<number>[^a-z°]+?)\s*(?P<scale>points?|pts?|°?\s*oe|oechsle|°?\s*(?:brix|bx|plato|p)|sg)?",
)
BRIX, POINTS = ("brix", "bx", "plato", "p"), ("point", "points", "pt", "pts", "oe", "oechsle")
DEGREES = re.compile(r"(?P<number>[^a-z°º]+?)\s*(?:[°º]|deg(?:rees)?)?\s*(?P<scale>[cf])?")
LOWEST, HIGHEST = 0.95, 1.2
# Absolute zero is colder than any kitchen; these are slips, not temperatures of must or cellar.
COLDEST_C, HOTTEST_C = -30.0, 110.0
GRAVITY_HINT = "Type 1.085, 1085, 85 points or 20 Brix."
TEMPERATURE_HINT = "Type 21 C or 70 F."


def parse_gravity(text: str, *, name: str) -> float:
    """Specific gravity 0.95 to 1.2 from 1.085, 1,085, 1085, 85 points or 20 Brix; Refusal else."""
    try:
        gravity = _gravity(plain(text).casefold().strip())
    except Fault as fault:
        raise refusal(name, text, fault) from None
    except ValueError as wrong:
        raise refusal(name, text, f"is out of range: {wrong}. {GRAVITY_HINT}") from None
    if not LOWEST <= gravity <= HIGHEST:
        raise refusal(
            name, text, f"is no gravity from {LOWEST:.3f} to {HIGHEST:.3f}. {GRAVITY_HINT}"
        )
    return gravity


def _gravity(shape: str) -> float:
    found = SCALE.fullmatch(shape)
    if not found:
        raise Fault(f"is not a gravity. {GRAVITY_HINT}")
    # Three places after a comma are a gravity here, never thousands.
    number = float(read_number(found["number"].strip(), three_places_ok=True))
    scale = (found["scale"] or "").strip("° ")
    if scale in BRIX:
        return gravity_of_apparent_brix(apparent_brix=number)
    if scale in POINTS:
        return gravity_of_oechsle(oechsle=number)
    return number / 1000 if 900 <= number <= 1300 else number


def parse_temperature(text: str, *, name: str, fahrenheit: bool = False) -> float:
    """Degrees Celsius from 21, 21 C or 70 F; a bare number is on the person's own scale."""
    found = DEGREES.fullmatch(plain(text).casefold().strip())
    if not found:
        raise refusal(name, text, f"is not a temperature. {TEMPERATURE_HINT}")
    try:
        number = float(read_number(found["number"].strip()))
    except Fault as fault:
        raise refusal(name, text, fault) from None
    is_f = found["scale"] == "f" or (fahrenheit and not found["scale"])
    degrees = (number - 32) / 1.8 if is_f else number
    if not COLDEST_C <= degrees <= HOTTEST_C:
        raise refusal(name, text, f"is no temperature of a kitchen or cellar. {TEMPERATURE_HINT}")
    return degrees
