"""How is a quantity, a day or a price put before this person?"""

import datetime as dt

from django.utils import timezone
from django.utils.formats import date_format

from inventory import units
from inventory.models import Item

NO_DAY = "no day"
EXACT_UNITS = {units.Base.MG: "g", units.Base.UL: "mL", units.Base.MPC: "pieces"}


def preference(request) -> str:
    """The units this person likes; the house's, or metric, for somebody not signed in."""
    person = getattr(request, "user", None)
    if person is not None and person.is_authenticated:
        return person.units
    house = getattr(request, "house", None)
    return house.units if house is not None else units.METRIC


def quantity_text(amount: int | None, kind: Item | str, preference: str) -> str:
    """A stored amount in words; `kind` is the item it is of, or its base unit (mg, uL, mpc)."""
    if amount is None:
        return "not known"
    if isinstance(kind, str):
        return units.format_quantity(amount, base=kind, preference=preference)
    piece = kind.piece_word or None if kind.base == units.Base.MPC else None
    return units.format_quantity(amount, base=kind.base, preference=preference, unit=piece)


def exact_text(amount: int, base: str) -> str:
    """A stored amount to its last thousandth, always in grams, millilitres or pieces."""
    whole, rest = divmod(abs(amount), 1000)
    decimals = f".{rest:03d}".rstrip("0") if rest else ""
    return f"{'-' if amount < 0 else ''}{whole}{decimals} {EXACT_UNITS[base]}"


def day_text(day: dt.date | None) -> str:
    return date_format(day, "D j M Y") if day else NO_DAY


def moment_text(moment: dt.datetime | None) -> str:
    """A day and the time of the house's clock."""
    if moment is None:
        return ""
    local = timezone.localtime(moment)
    return f"{day_text(local.date())}, {local:%H:%M}"


def away_text(day: dt.date, today: dt.date) -> str:
    """How far a day lies from today: "today", "in 3 days", "2 days ago"."""
    away = (day - today).days
    near = {-1: "yesterday", 0: "today", 1: "tomorrow"}
    if away in near:
        return near[away]
    return f"in {away} days" if away > 0 else f"{-away} days ago"


def money_text(hundredths: int | None) -> str:
    """A price from whole hundredths; the house counts in one currency and names none."""
    if hundredths is None:
        return "not known"
    sign = "-" if hundredths < 0 else ""
    whole, rest = divmod(abs(hundredths), 100)
    return f"{sign}{whole}.{rest:02d}"
