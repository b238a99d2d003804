"""How much did a person mean, in whole thousandths of a gram, a millilitre or a piece?

The units known are those in `units.txt`. All about showing quantities is in `measures`, and may
be imported from here as well.
"""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from fractions import Fraction
from functools import cache, lru_cache
from pathlib import Path

from inventory.measures import (
    METRIC,
    METRIC_SIZES,
    PREFERENCES,
    Base,
    format_quantity,
    grams,
    litres,
    mass_of,
    microlitres,
    milligrams,
    number_text,
    plural,
    quantity_hint,
    singular,
    volume_of,
)
from inventory.refusals import Refusal
from inventory.typed import LONGEST, THOUSANDS_OR_FRACTION, Fault, plain, read_number, refusal

__all__ = [
    "METRIC",
    "PREFERENCES",
    "Base",
    "editable_quantity",
    "format_quantity",
    "grams",
    "litres",
    "mass_of",
    "microlitres",
    "milligrams",
    "parse_quantity",
    "quantity_hint",
    "volume_of",
]

# 10**15 mg is a thousand tonnes: beyond any household, within a 64-bit column.
MOST = 10**15
KINDS = {"[mass]": Base.MG, "[volume]": Base.UL, "[count]": Base.MPC}
SPOONS = {"[teaspoon]": "tsp", "[tablespoon]": "tbsp"}
KIND_WORDS = {Base.MG: "a weight", Base.UL: "a volume", Base.MPC: "a number of pieces"}
KEPT_BY = {Base.MG: "weight", Base.UL: "volume", Base.MPC: "the piece"}
BY_COUNTRY = {"gal": "gallon", "qt": "quart", "pt": "pint", "floz": "fluid_ounce"}
BY_COUNTRY |= {"fl_oz": "fluid_ounce", "fluid_oz": "fluid_ounce"}
BY_COUNTRY |= {word: word for word in ("gallon", "quart", "pint", "cup", "fluid_ounce")}
LETTER = r"[^\W\d_]"
PART_ENDS = re.compile(
    rf"(?<={LETTER}) +(?=[+-]?[0-9])|(?<={LETTER}\.) +(?=[0-9])|(?<={LETTER})(?=[0-9])"
)
PART = re.compile(rf"([\W\d_]*?) ?({LETTER}(?:{LETTER}|[. ])*)?")


@dataclass(frozen=True, slots=True)
class Way:
    """How one item is measured, and how the person who types likes to measure."""

    base: Base
    preference: str
    density: Fraction | None
    spoons: Mapping[str, int]
    default_unit: str | None

    @property
    def hint(self) -> str:
        return quantity_hint(self.base, self.preference, self.default_unit)


def parse_quantity(
    text: str,
    *,
    base: Base | str,
    name: str,
    preference: str = METRIC,
    density_mg_per_ul: Fraction | None = None,
    spoons: Mapping[str, int] | None = None,
    default_unit: str | None = None,
    zero_ok: bool = True,
) -> int:
    """Return whole thousandths, rounded half to even: 2.5 kg, 1 lb 4 oz, 1 1/2 tsp, 12 sachets.

    A bare number is in `default_unit`; without one it is refused, except that pieces are counted,
    and there `default_unit` is the item's word for one piece. Weight and volume meet only through
    the item's own density; `spoons` holds the thousandths in its "tsp" and "tbsp". Bare gallon,
    pint, cup and fl oz are read by a preference of imperial or US, and asked about under metric.
    """
    density = Fraction(density_mg_per_ul) if density_mg_per_ul else None
    way = Way(Base(base), preference, density, spoons or {}, default_unit)
    if not text.strip():
        raise Refusal(f"{name}: type an amount, {way.hint}.", field=name)
    try:
        return _whole(_exact(text, way), zero_ok)
    except Fault as fault:
        raise refusal(name, text, fault) from None


def _whole(exact: Fraction, zero_ok: bool) -> int:
    if exact < 0:
        raise Fault("is below zero. Type an amount of zero or more.")
    if exact > MOST:
        raise Fault("is an absurd size. Look at the number and the unit again.")
    quantity = round(exact)
    if not quantity and (exact or not zero_ok):
        raise Fault("is too little to be kept. Type an amount above zero.")
    return quantity


def _exact(text: str, way: Way) -> Fraction:
    if len(text) > LONGEST:
        raise Fault("is too long for an amount.")
    parts = [_part(part, way) for part in PART_ENDS.split(plain(text).casefold())]
    if len(parts) == 1:
        number, word = parts[0]
        return number * _size(word or _unit_of_bare_number(way), way)[1]
    sizes = [_size(word, way) for _, word in parts]
    factors = [factor for _, factor in sizes]
    if len({kind for kind, _ in sizes}) > 1 or factors != sorted(set(factors), reverse=True):
        raise Fault("does not add up: of two units the larger stands first, such as 1 lb 4 oz.")
    if any(number < 0 for number, _ in parts):
        raise Fault("is partly below zero. Type an amount of zero or more.")
    return sum((part[0] * factor for part, factor in zip(parts, factors, strict=True)), Fraction())


def _part(part: str, way: Way) -> tuple[Fraction, str]:
    found = PART.fullmatch(part)
    if not found or not found[1]:
        raise Fault(f"is not an amount. Type one, {way.hint}.")
    return read_number(found[1]), _key(found[2] or "")


def _key(word: str) -> str:
    """Return a unit as it is written in units.txt."""
    return "_".join(word.casefold().replace(".", "").split())


def _unit_of_bare_number(way: Way) -> str:
    if way.base is Base.MPC:
        return "piece"
    if not way.default_unit:
        raise Fault(f"has no unit. Type it with one, {way.hint}.")
    return _key(way.default_unit)


def _size(word: str, way: Way) -> tuple[str, Fraction]:
    """Return the kind of unit and how many of the item's thousandths it holds."""
    piece = way.default_unit or "piece"
    if way.base is Base.MPC and word in (_key(singular(piece)), _key(plural(piece))):
        return Base.MPC, Fraction(1000)
    known = _known(_by_country(word, way.preference))
    if known is None:
        raise Fault(f"has a unit that is not known here. Type an amount, {way.hint}.")
    dimension, size = known
    if dimension in SPOONS:
        return "spoon", _spoon(SPOONS[dimension], way)
    kind = KINDS[dimension]
    return kind, size if kind is way.base else size * _across(kind, way)


def _spoon(spoon: str, way: Way) -> Fraction:
    if spoon not in way.spoons:
        raise Fault(
            f"is in spoons, and how much of this item a {spoon} holds is not known. "
            f"Type {KIND_WORDS[way.base]}, or fill in the spoon of this item first."
        )
    return Fraction(way.spoons[spoon])


def _across(kind: Base, way: Way) -> Fraction:
    """Return what turns a volume into the item's mass or a mass into its volume."""
    wanted = KIND_WORDS[way.base]
    unlike = f"is {KIND_WORDS[kind]}, but this item is kept by {KEPT_BY[way.base]}"
    if Base.MPC in (kind, way.base):
        raise Fault(f"{unlike}. Type {wanted}.")
    if not way.density:
        raise Fault(
            f"{unlike} and has no density of its own. "
            f"Type {wanted}, or fill in the density of this item first."
        )
    return way.density if kind is Base.UL else 1 / way.density


def _by_country(word: str, preference: str) -> str:
    size = BY_COUNTRY.get(word) or BY_COUNTRY.get(word.removesuffix("s"))
    if size is None:
        return word
    if preference == METRIC:
        shown = size.replace("_", " ")
        raise Fault(f'is not clear: which one, imperial or US? Type "imp {shown}" or "us {shown}".')
    return f"{preference}_{size}"


@lru_cache(maxsize=256)
def _known(word: str) -> tuple[str, Fraction] | None:
    """Return dimension and size in thousandths of a unit on the list, None if it is not there."""
    registry = _registry()
    try:
        name = registry.get_name(word)
    except AttributeError:  # pint's UndefinedUnitError is one
        return None
    if not name:
        return None
    size, _ = registry.get_base_units(name)
    return str(registry.get_dimensionality(name)), Fraction(size)


@cache
def _registry():
    """Return the one registry, exact in fractions; importing pint takes a third of a second."""
    import pint

    return pint.UnitRegistry(str(Path(__file__).with_name("units.txt")), non_int_type=Fraction)


def editable_quantity(
    quantity: int,
    *,
    base: Base | str,
    preference: str = METRIC,
    decimal_mark: str = ".",
) -> str:
    """Return text that `parse_quantity` reads back as exactly this quantity, for an edit form.

    Pieces are a bare number. Where the preferred unit would lose a thousandth, it is metric.
    """
    base = Base(base)
    if base is Base.MPC:
        text = number_text(Fraction(quantity, 1000), 3)
        text += "0" if THOUSANDS_OR_FRACTION.fullmatch(text) else ""
    else:
        text = format_quantity(quantity, base=base, preference=preference)
        if preference == METRIC or not _reads_back(text, base, quantity):
            text = _exact_metric(quantity, METRIC_SIZES[base])
    return text.replace(".", decimal_mark)


def _reads_back(text: str, base: Base, quantity: int) -> bool:
    try:
        return parse_quantity(text, base=base, name="") == quantity
    except Refusal:  # rounded up past the most there may be
        return False


def _exact_metric(quantity: int, sizes: Mapping[str, Fraction]) -> str:
    """In the largest unit that needs two decimals at most, so that no three look like thousands."""
    for unit, size in reversed(sizes.items()):
        if (size <= quantity or not quantity) and quantity * 100 % size == 0:
            return f"{number_text(quantity / size, 2)} {unit}"
    raise ValueError(f"A quantity to edit is zero or more, not {quantity}.")
