"""How is a stored quantity shown to a person, and what is it in grams, litres or the other base?

A density is in mg per µL, which is g per mL. The sources of the factors stand in `units.txt`.
"""

import re
from collections.abc import Mapping
from enum import StrEnum
from fractions import Fraction

METRIC, IMPERIAL, US = PREFERENCES = ("metric", "imperial", "us")


class Base(StrEnum):
    """What one stored whole number counts: a thousandth of a gram, a millilitre or a piece."""

    MG = "mg"
    UL = "uL"
    MPC = "mpc"


POUND = Fraction("453592.37")
IMPERIAL_GALLON = Fraction(4_546_090)
US_GALLON = Fraction("3785411.784")
METRIC_SIZES = {
    Base.MG: {"mg": Fraction(1), "g": Fraction(10**3), "kg": Fraction(10**6)},
    Base.UL: {"µL": Fraction(1), "mL": Fraction(10**3), "L": Fraction(10**6)},
}
POUND_SIZES = {"oz": POUND / 16, "lb": POUND}
GALLON_SIZES = {
    IMPERIAL: {
        "imp fl oz": IMPERIAL_GALLON / 160,
        "imp pt": IMPERIAL_GALLON / 8,
        "imp gal": IMPERIAL_GALLON,
    },
    US: {"US fl oz": US_GALLON / 128, "US pt": US_GALLON / 8, "US gal": US_GALLON},
}
SIZES = {
    Base.MG: METRIC_SIZES[Base.MG] | POUND_SIZES,
    Base.UL: METRIC_SIZES[Base.UL] | GALLON_SIZES[IMPERIAL] | GALLON_SIZES[US],
}
DECIMALS = {"mg": 0, "µL": 0, "kg": 3, "L": 3, "lb": 2}
DECIMALS |= {"imp pt": 2, "imp gal": 2, "US pt": 2, "US gal": 2}
HINTS = {
    (Base.MG, METRIC): "2.5 kg or 750 g",
    (Base.MG, IMPERIAL): "1 lb 4 oz or 750 g",
    (Base.MG, US): "1 lb 4 oz or 750 g",
    (Base.UL, METRIC): "4.5 L or 750 mL",
    (Base.UL, IMPERIAL): "1 imp gal or 750 mL",
    (Base.UL, US): "1 US gal or 750 mL",
}


def format_quantity(
    quantity: int,
    *,
    base: Base | str,
    preference: str = METRIC,
    unit: str | None = None,
    decimal_mark: str = ".",
    digits: int | None = None,
) -> str:
    """Return a quantity for reading, rounded half to even to sensible digits or at most `digits`.

    `unit` is the item's word for one piece, or fixes the unit: a key of SIZES such as "kg".
    With neither unit nor digits given, the text can be typed back: three decimals, which might be
    taken for thousands, never follow a whole number, so 1312 g stays in grams.
    """
    size, base = abs(quantity), Base(base)
    if base is Base.MPC:
        text = _in_pieces(Fraction(size, 1000), unit or "piece", digits)
    elif unit:
        text = _in_unit(size, unit, _size(unit, base), digits)
    elif preference == METRIC:
        text = _in_metric(size, METRIC_SIZES[base], digits)
    elif base is Base.MG:
        text = _in_pounds(size, digits)
    else:
        text = _in_largest(size, GALLON_SIZES[preference], digits)
    sign = "-" if quantity < 0 and re.search("[1-9]", text) else ""
    return sign + text.replace(".", decimal_mark)


def _size(unit: str, base: Base) -> Fraction:
    if unit not in SIZES[base]:
        raise ValueError(f"{unit} is none of {', '.join(SIZES[base])}.")
    return SIZES[base][unit]


def _in_pieces(count: Fraction, word: str, digits: int | None) -> str:
    number = number_text(count, _few(count) if digits is None else digits)
    return f"{number} {singular(word) if number == '1' else plural(word)}"


def _in_unit(size: int, unit: str, factor: Fraction, digits: int | None) -> str:
    value = size / factor
    if digits is None:
        digits = DECIMALS.get(unit, _few(value))
    return f"{number_text(value, digits)} {unit}"


def _in_metric(size: int, sizes: Mapping[str, Fraction], digits: int | None) -> str:
    """Grams to 10 kg unless a round number of them, then kilograms to ten grams; litres alike."""
    _, small, large = sizes
    whole = round(size / sizes[small])
    if whole < 1_000 or (digits is None and whole < 10_000 and whole % 10):
        return _in_unit(size, small, sizes[small], digits)
    return _in_unit(size, large, sizes[large], 2 if digits is None else digits)


def _in_pounds(size: int, digits: int | None) -> str:
    step = 10 ** (1 if digits is None else digits)
    pounds, rest = divmod(round(size / POUND_SIZES["oz"] * step), 16 * step)
    if not pounds:
        return _in_unit(size, "oz", POUND_SIZES["oz"], digits)
    return f"{pounds} lb" + (f" {number_text(Fraction(rest, step), 9)} oz" if rest else "")


def _in_largest(size: int, sizes: Mapping[str, Fraction], digits: int | None) -> str:
    fitting = [unit for unit, factor in sizes.items() if round(factor) <= size]
    unit = fitting[-1] if fitting else next(iter(sizes))
    return _in_unit(size, unit, sizes[unit], digits)


def _few(value: Fraction) -> int:
    """Three digits or a little more: 0.501, 6.41, 77.3, 750."""
    return 3 if value < 1 else 2 if value < 10 else 1 if value < 100 else 0


def number_text(value: Fraction, digits: int) -> str:
    """Return a number from 0 up with at most `digits` decimals, without zeros at the end."""
    whole, rest = divmod(round(value * 10**digits), 10**digits)
    decimals = f"{rest:0{digits}d}".rstrip("0") if rest else ""
    return f"{whole}.{decimals}" if decimals else f"{whole}"


def quantity_hint(base: Base | str, preference: str = METRIC, unit: str | None = None) -> str:
    """Return a short example of what may be typed; `unit` is the item's word for one piece."""
    if Base(base) is Base.MPC:
        return f"for example 12 {plural(unit)}" if unit else "for example 12"
    return f"for example {HINTS[Base(base), preference]}"


def singular(word: str) -> str:
    """Return the word for one of a thing counted under either word: lemons, lemon."""
    return word[:-1] if word.endswith("s") and not word.endswith("ss") else word


def plural(word: str) -> str:
    """Return the word for several of a thing counted: sachet, sachets; box, boxes; leaf, leaves."""
    one = singular(word)
    if one.endswith("leaf") or one.endswith("loaf"):
        return f"{one[:-1]}ves"
    if one.endswith("y") and one[-2:-1] not in "aeiou":
        return f"{one[:-1]}ies"
    return f"{one}es" if one.endswith(("s", "x", "z", "ch", "sh")) else f"{one}s"


def mass_of(volume_ul: int, *, density_mg_per_ul: Fraction) -> int:
    """Return the mass in mg of a volume in µL, rounded half to even."""
    return round(volume_ul * _checked(density_mg_per_ul))


def volume_of(mass_mg: int, *, density_mg_per_ul: Fraction) -> int:
    """Return the volume in µL of a mass in mg, rounded half to even."""
    return round(mass_mg / _checked(density_mg_per_ul))


def _checked(density_mg_per_ul: Fraction) -> Fraction:
    # From the lightest dry herb to iron (about 7.9): common practice, no source.
    if not Fraction(1, 100) <= density_mg_per_ul <= 20:
        raise ValueError(f"A density is 0.01 to 20 mg per µL, not {density_mg_per_ul}.")
    return Fraction(density_mg_per_ul)


def litres(volume_ul: int) -> float:
    """Return litres for the chemistry."""
    return volume_ul / 10**6


def microlitres(volume_l: float) -> int:
    """Return whole µL from litres, rounded half to even."""
    return round(Fraction(volume_l) * 10**6)


def grams(mass_mg: int) -> float:
    """Return grams for the chemistry."""
    return mass_mg / 10**3


def milligrams(mass_g: float) -> int:
    """Return whole mg from grams, rounded half to even."""
    return round(Fraction(mass_g) * 10**3)
