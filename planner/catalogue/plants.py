"""A plant of the catalogue: when, how much, how it keeps, and what must be known beforehand."""

import re
from collections.abc import Mapping
from dataclasses import dataclass, field
from enum import StrEnum

from planner.phenology import Place, ShiftKind, Window

# 1 July: fruit that peaks from here on counts as late fruit; a judgement, no source.
_LATE_FROM_DAY = 182


class DoseBasis(StrEnum):
    """What a dose is counted on: so much for each litre of this."""

    MUST = "must"
    MUST_OR_SYRUP = "must or syrup"
    SYRUP = "syrup"
    WORT = "wort"
    SPIRIT = "spirit"
    WINE = "wine"
    JUICE = "juice"
    # The sap stands in for the water of the must.
    SAP_AS_WATER = "sap as the water"
    # The table does not say of what.
    LITRE = "litre"


class LegalClass(StrEnum):
    WILD_PERSONAL = "wild-personal"
    CULTIVATED = "cultivated"
    UPROOT_CONSENT = "uproot-consent"
    AVOID_OR_PROTECTED = "avoid-or-protected"
    TREE_OWNER_CONSENT = "tree-owner-consent"
    NORTH_AMERICA = "north-america"
    INVASIVE_CONTROLLED = "invasive-controlled"
    DO_NOT_USE = "do-not-use"


@dataclass(frozen=True)
class Cell:
    """A cell as it stands, with its numbers where the whole cell is a number or a range."""

    text: str
    low: float | None
    high: float | None
    source: str

    @property
    def is_known(self) -> bool:
        return self.low is not None


@dataclass(frozen=True)
class Dose:
    """Grams (millilitres of sap) for each litre of what the basis names."""

    low: float
    high: float
    basis: DoseBasis

    @property
    def unit(self) -> str:
        return "mL/L" if self.basis is DoseBasis.SAP_AS_WATER else "g/L"

    def for_litres(self, litres: float) -> tuple[float, float]:
        """Least and most for that volume, in the numerator of `unit`."""
        return self.low * litres, self.high * litres


@dataclass(frozen=True, kw_only=True)
class CataloguePlant:
    """One part of one species, as the table has it."""

    key: str
    common_name: str
    latin_name: str
    part: str
    uses: tuple[str, ...]
    aliases: tuple[str, ...]
    place: Place
    place_text: str
    window: Window
    bbch: str
    bbch_name: str
    cue_event: str
    cue_lag_days: int
    room_days: Cell
    fridge_days: Cell
    freezer_months: Cell
    net_yield_percent: Cell
    doses: tuple[Dose, ...]
    dose_text: str
    sugar_g_per_100g: Cell
    acid_g_per_100g: Cell
    tannin: str
    hazard_level: int
    hazard_text: str
    look_alikes: str
    legal_class: LegalClass
    legal_note: str
    notes: str
    sources: Mapping[str, str] = field(hash=False)

    @property
    def must_not_be_used(self) -> bool:
        return self.legal_class in (LegalClass.DO_NOT_USE, LegalClass.INVASIVE_CONTROLLED)

    @property
    def shift_kind(self) -> ShiftKind:
        """How its window follows the place: by first frost, as late fruit, or as in spring."""
        # Leaves dying back are an autumn event too (Hopkins 1918-20: earlier northwards).
        if re.match(r"first (hard )?frost|leaf die-back", self.cue_event):
            return ShiftKind.FIRST_FROST
        # BBCH stages 4, 7 and 8: harvestable parts, fruit growing, fruit ripening.
        if self.bbch[:1] in "478" and self.window.peak >= _LATE_FROM_DAY:
            return ShiftKind.LATE_FRUIT
        return ShiftKind.SPRING

    def answers_to(self, word: str) -> bool:
        """Whether that is its key or one of its names, whatever the capitals."""
        names = (self.key, self.common_name, self.latin_name, *self.aliases)
        return word.strip().casefold() in {name.casefold() for name in names}
