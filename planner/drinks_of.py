"""What stands on a bottle, in words: strength, units, sulphite, what it contains and by when."""

from inventory import shown
from inventory.models import CellarLot
from inventory.units import METRIC, Base
from planner.chemistry import drinks
from planner.chemistry.carbonation import G_PER_L_PER_VOLUME

UL_PER_L = 1_000_000
MG_PER_G = 1000


def strength_text(lot: CellarLot) -> str:
    """To a tenth of a per cent; empty where it is not known."""
    return "" if lot.strength is None else f"{lot.strength / 1000:.1f} % vol"


def units_of(lot: CellarLot, country: str) -> float | None:
    """Standard drinks of a country in one bottle; none where strength or country is not known."""
    if lot.strength is None or country not in drinks.UNIT_ML:
        return None
    return drinks.standard_drinks(
        volume_l=lot.fill / UL_PER_L, abv=lot.strength / 1000, country=country
    )


def label_text(lot: CellarLot) -> str:
    """What a label says below the name, a line each."""
    strength = strength_text(lot)
    days = [f"Filled {shown.day_text(lot.bottled)}"]
    if lot.ready:
        days.append(f"ready {shown.day_text(lot.ready)}")
    if lot.drink_by:
        days.append(f"drink by {shown.day_text(lot.drink_by)}")
    volume = shown.quantity_text(lot.fill, Base.UL, METRIC)
    lines = [
        f"Made of {lot.contains}" if lot.contains else "",
        ", ".join(filter(None, [volume, f"about {strength}" if strength else ""])),
        ", ".join(days),
        lot.mark,
    ]
    return "\n".join(filter(None, lines))


def facts(lot: CellarLot, country: str) -> list[dict]:
    """Label, value, how it is known and by which rule."""
    units = units_of(lot, country)
    found = [
        _fact("Strength", strength_text(lot), "worked out", lot.strength_rule),
        _fact(
            "Units in a bottle",
            "" if units is None else f"{units:.2f}",
            "worked out",
            drinks.UNIT_RULE.name,
            drinks.UNIT_RULE.source,
        ),
        _fact(
            "Sulphite at most",
            "" if lot.sulphite is None else f"{lot.sulphite} mg/L",
            "worked out",
            "Everything that went in, since the last reading of the total.",
        ),
    ]
    if lot.is_fizzy and lot.co2 is not None:
        volumes = lot.co2 / MG_PER_G / G_PER_L_PER_VOLUME
        words = "What the wine held, with what its priming makes."
        found.append(_fact("Fizz", f"{volumes:.2f} volumes", "worked out", words))
    return found


def _fact(label: str, value: str, known: str, rule: str, source: str = "") -> dict:
    return {
        "label": label,
        "value": value,
        "known": known if value else "not known",
        "rule": rule if value else "",
        "source": source if value else "",
    }
