"""What comes of a recipe at a volume: its balance, strength, sweetness, food and room?"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, field
from fractions import Fraction

from django.utils.text import capfirst

from inventory import ledger, reservations
from inventory.models import Item, Vessel
from inventory.models.vessels import VesselKind
from planner import compositions, must, wishes
from planner.chemistry import nutrients
from planner.chemistry.figure import Figure
from planner.chemistry.prospect import Prospect, prospect
from planner.chemistry.sums import bounds
from planner.models import Composition
from planner.models.recipes import Product
from planner.occupancies import FOAM_SHARE
from planner.requirements import amounts_of, explode
from planner.wishes import Verdict, Wishes

UL_PER_L = 1_000_000
NO_FERMENT = (Product.CORDIAL, Product.INFUSION)


@dataclass(frozen=True, slots=True)
class Part:
    """One line of the recipe at this volume: what it brings, or why it is not counted."""

    item: Item
    amount: Fraction
    ingredient: must.Ingredient | None
    why_not: str = ""


@dataclass(frozen=True, slots=True)
class Room:
    """A vessel of the house, what of it is usable under foam, and whether the must fits in words."""

    vessel: Vessel
    usable_l: float
    word: str


@dataclass(frozen=True)
class Design:
    """A must in figures; `refused` says why there are none."""

    volume_ul: int
    parts: tuple[Part, ...]
    balance: must.Balance | None = None
    prospect: Prospect | None = None
    nitrogen_wanted: Figure | None = None
    rooms: tuple[Room, ...] = ()
    verdicts: tuple[Verdict, ...] = ()
    refused: str = ""
    unknown: tuple[Item, ...] = field(default=())

    @property
    def ingredients(self) -> tuple[must.Ingredient, ...]:
        return tuple(part.ingredient for part in self.parts if part.ingredient)


def parts_of(
    lines: Sequence, *, volume_ul: int, own: Mapping[int, Composition]
) -> tuple[Part, ...]:
    """The lines that can stand in a must, each with what is known of it; no query.

    A line has item, basis, amount and is_fruit. The same item in two lines is counted once, in all.
    """
    totals: dict[int, tuple[Item, Fraction]] = {}
    for line, amount in zip(lines, amounts_of(lines, volume_ul), strict=True):
        if compositions.counts(line.item):
            held = totals.get(line.item.pk, (line.item, Fraction(0)))[1]
            totals[line.item.pk] = (line.item, held + amount)
    return tuple(_part(item, amount, own.get(key)) for key, (item, amount) in totals.items())


def _part(item: Item, amount: Fraction, own: Composition | None) -> Part:
    mass = compositions.mass_kg(item, float(amount), own)
    if not mass.is_known:
        return Part(item, amount, None, "what it weighs is not known")
    return Part(item, amount, compositions.ingredient(item, mass.value, own))


def reckon(
    lines: Sequence,
    *,
    volume_ul: int,
    wished: Wishes,
    bears: tuple[float, float] | None = None,
    ferments: bool = True,
    vessels: Iterable[Vessel] = (),
    own: Mapping[int, Composition],
) -> Design:
    """The design of these lines at a volume; asks the database nothing."""
    try:
        parts = parts_of(lines, volume_ul=volume_ul, own=own)
        found = tuple(part.ingredient for part in parts if part.ingredient)
        balance = must.balance(found, volume_l=volume_ul / UL_PER_L)
        ahead = prospect(balance.gravity, tolerance_abv=bears) if ferments else None
    except ValueError as wrong:
        return Design(volume_ul, (), refused=f"{capfirst(str(wrong))}.")
    unknown = tuple(
        part.item for part in parts if part.ingredient and not part.ingredient.sugar.is_known
    )
    return Design(
        volume_ul,
        parts,
        balance,
        ahead,
        _nitrogen(balance) if ferments else None,
        tuple(_room(vessel, balance.with_fruit_l) for vessel in vessels),
        tuple(_verdicts(wished, ahead)) if ferments else (),
        unknown=unknown,
    )


def _nitrogen(balance: must.Balance) -> Figure | None:
    sugar = balance.sugar_g_per_l.value
    return nutrients.need(sugar_g_per_l=sugar) if sugar and 1 <= sugar <= 350 else None


def _verdicts(wished: Wishes, ahead: Prospect) -> list[Verdict]:
    left = ahead.sugar_left
    return wishes.judge(wished, left_low_g_per_l=left.low, left_high_g_per_l=left.high)


def _room(vessel: Vessel, wanted: Figure) -> Room:
    """Judged by the least and the most room that the fruit may take."""
    usable = vessel.brimful / UL_PER_L * (1 - FOAM_SHARE)
    least, most = bounds(wanted)
    if least is None or least > usable:
        return Room(vessel, usable, "is too small")
    fits = most is not None and most <= usable
    return Room(vessel, usable, "holds it" if fits else "may be too small")


def open_vessels() -> list[Vessel]:
    """What a mash can stand in; one query."""
    return list(Vessel.objects.filter(kind=VesselKind.OPEN, archived=False))


def of_version(version, *, volume_ul: int, lines: Sequence | None = None) -> Design:
    """The design of a kept version at a volume; three queries."""
    rows = list(version.lines.select_related("item")) if lines is None else lines
    own = compositions.by_item(line.item_id for line in rows)
    return reckon(
        rows,
        volume_ul=volume_ul,
        wished=wishes_of(version),
        bears=bears_of(version),
        ferments=version.recipe.product not in NO_FERMENT,
        vessels=open_vessels(),
        own=own,
    )


@dataclass(frozen=True, slots=True)
class Wanted:
    """One item of the recipe at this volume against what the house has: free is not spoken for."""

    item: Item
    amount: int
    on_hand: int
    free: int

    @property
    def short(self) -> int:
        return max(0, self.amount - self.free)


def needs_of(version, *, volume_ul: int) -> list[Wanted]:
    """What the version wants at a volume and what of it is on the shelf and free; three queries."""
    wanted: dict[int, tuple[Item, int]] = {}
    for line, amount in explode(version, volume_ul):
        held = wanted.get(line.item_id, (line.item, 0))[1]
        wanted[line.item_id] = (line.item, held + amount)
    stock, spoken = ledger.stock(wanted), reservations.spoken_for(wanted)
    return [
        Wanted(item, amount, stock.get(key, 0), stock.get(key, 0) - spoken.get(key, 0))
        for key, (item, amount) in wanted.items()
    ]


def wishes_of(version) -> Wishes:
    closing = version.closing or ("fizz" if version.recipe.product == Product.FIZZ else "still")
    return Wishes(version.sweet, closing, version.steadied)


def bears_of(version) -> tuple[float, float] | None:
    """What the yeast bears in % vol, from the lower to the higher; none where nobody said."""
    ends = [end / 10 for end in (version.bears_low, version.bears_high) if end is not None]
    return (min(ends), max(ends)) if ends else None
