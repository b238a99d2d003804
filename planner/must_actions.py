"""What must change in a recipe to make it 1.090, fit a vessel, or use up a pick?

Works on drafts, writes nothing: the amounts come back to be looked at before they are kept.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from fractions import Fraction

from django.utils.text import capfirst

from inventory import shown
from inventory.models import Item
from inventory.refusals import Refusal
from planner import compositions, must
from planner.chemistry.figure import Figure
from planner.models import Basis, Composition
from planner.must_design import UL_PER_L, parts_of
from planner.recipes import LineDraft
from planner.requirements import amounts_of

Own = Mapping[int, Composition]
# Less than a spoonful of water is no difference.
LEAST_WATER_L = 0.005


@dataclass(frozen=True)
class Changed:
    """The lines and the volume as they would be, and the difference in words."""

    lines: list[LineDraft]
    volume_ul: int
    water_l: float | None


def make_gravity(
    lines: Sequence[LineDraft], *, volume_ul: int, gravity: float, by: Item, own: Own
) -> Changed:
    """The same volume at a gravity, by more or less of one ingredient."""
    ingredients, before = _must(lines, volume_ul, own)
    try:
        after = must.solve_sugar(
            ingredients, volume_l=volume_ul / UL_PER_L, gravity=gravity, adjust=by.name
        )
    except ValueError as wrong:
        raise _refusal(wrong, "make_by") from None
    wanted_kg = next(each.mass_kg for each in after if each.name == by.name)
    held_kg = next(each.mass_kg for each in ingredients if each.name == by.name)
    changed = _times(lines, by, Fraction(wanted_kg) / Fraction(held_kg))
    return _changed(changed, volume_ul, own, before, same_fruit=True)


def make_volume_for(
    lines: Sequence[LineDraft], *, volume_ul: int, gravity: float, own: Own
) -> Changed:
    """The same ingredients in more or less water, so that they come to a gravity."""
    ingredients, before = _must(lines, volume_ul, own)
    try:
        litres = must.solve_volume(ingredients, gravity=gravity)
    except ValueError as wrong:
        raise _refusal(wrong, "make_gravity") from None
    wanted = round(litres * UL_PER_L)
    return _changed(spread(lines, volume_ul, wanted), wanted, own, before, same_fruit=True)


def fit(lines: Sequence[LineDraft], *, volume_ul: int, wanted_ul: int, own: Own) -> Changed:
    """The same must, more or less of it; what is counted by the piece or weighed once stays."""
    _, before = _must(lines, volume_ul, own)
    factor = Fraction(wanted_ul, volume_ul)
    changed = [
        replace(line, amount=_at_least_one(line.amount * factor)) if _grows(line) else line
        for line in lines
    ]
    return _changed(changed, wanted_ul, own, before)


def use_all(
    lines: Sequence[LineDraft], *, volume_ul: int, item: Item, mass_mg: int, own: Own
) -> Changed:
    """So much must as uses all of a pick."""
    held = sum(
        amount
        for line, amount in zip(lines, amounts_of(lines, volume_ul), strict=True)
        if line.item.pk == item.pk
    )
    if not held:
        raise Refusal(f"{item} is not in this recipe.", field="make_pick")
    return fit(lines, volume_ul=volume_ul, wanted_ul=round(volume_ul * mass_mg / held), own=own)


def fill(
    lines: Sequence[LineDraft], *, volume_ul: int, brimful_ul: int, foam_share: float, own: Own
) -> Changed:
    """As much as a vessel takes with the fruit in it and its foam room left."""
    ingredients, _ = _must(lines, volume_ul, own)
    room = must.balance(ingredients, volume_l=volume_ul / UL_PER_L).with_fruit_l
    factor = must.factor_for_vessel(
        needs_l=room.value if room.high is None else room.high,
        brimful_l=brimful_ul / UL_PER_L,
        foam_share=foam_share,
    )
    return fit(lines, volume_ul=volume_ul, wanted_ul=int(volume_ul * factor), own=own)


def spread(lines: Sequence[LineDraft], volume_ul: int, wanted_ul: int) -> list[LineDraft]:
    """The same amounts in all, in another volume: what goes per litre goes per more or fewer."""
    factor = Fraction(volume_ul, wanted_ul)
    return [
        replace(line, amount=_at_least_one(line.amount * factor))
        if line.basis == Basis.PER_LITRE
        else line
        for line in lines
    ]


def _grows(line: LineDraft) -> bool:
    return line.basis == Basis.FIXED and compositions.counts(line.item) and line.item.base != "mpc"


def _times(lines: Sequence[LineDraft], item: Item, factor: Fraction) -> list[LineDraft]:
    return [
        replace(line, amount=_at_least_one(line.amount * factor))
        if line.item.pk == item.pk
        else line
        for line in lines
    ]


def _at_least_one(amount: Fraction) -> int:
    return max(1, round(amount))


def _must(
    lines: Sequence[LineDraft], volume_ul: int, own: Own
) -> tuple[tuple[must.Ingredient, ...], Figure]:
    parts = parts_of(lines, volume_ul=volume_ul, own=own)
    found = tuple(part.ingredient for part in parts if part.ingredient)
    try:
        return found, must.balance(found, volume_l=volume_ul / UL_PER_L).water_l
    except ValueError as wrong:
        raise _refusal(wrong, "volume") from None


def _changed(
    lines: list[LineDraft], volume_ul: int, own: Own, before: Figure, *, same_fruit: bool = False
) -> Changed:
    """The change with its difference in water.

    Where the same fruit brings an unknown share of water, the difference is known all the same.
    """
    _, after = _must(lines, volume_ul, own)
    if same_fruit and None not in (before.low, after.low):
        return Changed(lines, volume_ul, after.low - before.low)
    known = after.is_known and before.is_known
    return Changed(lines, volume_ul, after.value - before.value if known else None)


def _refusal(wrong: ValueError, field: str) -> Refusal:
    return Refusal(f"{capfirst(str(wrong))}.", field=field)


def difference(
    lines: Sequence[LineDraft], volume_ul: int, changed: Changed, *, preference: str
) -> list[str]:
    """What is more or less than before, all of it at its volume, in the person's units."""
    said = []
    before, after = amounts_of(lines, volume_ul), amounts_of(changed.lines, changed.volume_ul)
    for line, old, new in zip(lines, before, after, strict=True):
        if round(new) != round(old):
            way = "more" if new > old else "less"
            by = shown.quantity_text(abs(round(new - old)), line.item, preference)
            all_in = shown.quantity_text(round(new), line.item, preference)
            said.append(f"{line.item}: {by} {way}, {all_in} in all.")
    if changed.volume_ul != volume_ul:
        litres = shown.quantity_text(changed.volume_ul, "uL", preference)
        said.append(f"Reckoned for {litres} now.")
    if changed.water_l is not None and abs(changed.water_l) >= LEAST_WATER_L:
        way = "more" if changed.water_l > 0 else "less"
        litres = shown.quantity_text(round(abs(changed.water_l) * UL_PER_L), "uL", preference)
        said.append(f"Water: {litres} {way}.")
    return said or ["It is so already: nothing changed."]
