"""How is a figure of the chemistry put before this person?"""

from inventory import measures
from inventory.units import METRIC, Base
from planner.chemistry.figure import Figure

# What a formula calls it, what a page calls it, and the decimals that a kitchen can use.
UNITS = {
    "SG": ("", 4),
    "% vol": ("% vol", 1),
    "% w/w": ("% by mass", 1),
    "degBx": ("°Bx", 1),
    "degOe": ("°Oe", 0),
    "degC": ("°C", 1),
    "g/L": ("g/L", 2),
    "mg/L": ("mg/L", 1),
    "mg N/L": ("mg/L of nitrogen", 0),
    "g/L as tartaric": ("g/L as tartaric", 1),
    "volumes": ("volumes", 2),
    "bar": ("bar", 2),
    "bar over atmosphere": ("bar", 2),
    "%": ("%", 0),
    "mg": ("mg", 0),
    "a_w": ("", 3),
    "standard drinks": ("standard drinks", 1),
    "pH": ("", 2),
    "degree-days": ("degree-days", 1),
    "day": ("", 0),
    "bottle": ("bottle", 0),
    "bottles": ("bottles", 0),
}
# Amounts are shown in the units the person likes: base and how many thousandths to one.
AMOUNTS = {
    "L": (Base.UL, 1_000_000),
    "mL": (Base.UL, 1_000),
    "kg": (Base.MG, 1_000_000),
    "g": (Base.MG, 1_000),
}
# Below this many thousandths an amount is shown with its decimals, not rounded to whole ones.
SMALL = 100_000


def text_of(figure: Figure, preference: str = METRIC) -> str:
    """The figure with its unit, and its range where it has one."""
    if figure.value is None:
        return span_of(figure, preference) or "not known"
    span = span_of(figure, preference)
    said = number_text(figure.value, figure.unit, preference)
    return f"{said} ({span})" if span else said


def span_of(figure: Figure, preference: str = METRIC) -> str:
    """The range alone; empty where there is none."""
    low, high = figure.low, figure.high
    if high is None and not low:
        return ""
    if low is None or high is None:
        word, bound = ("at least", low) if high is None else ("at most", high)
        return f"{word} {number_text(bound, figure.unit, preference)}"
    first, last = (bare_text(bound, figure.unit, preference) for bound in (low, high))
    return "" if first == last else f"{first} to {last}"


def number_text(value: float, unit: str, preference: str = METRIC) -> str:
    if unit in AMOUNTS:
        return _amount_text(value, unit, preference)
    words, _ = UNITS.get(unit, (unit, 2))
    return f"{bare_text(value, unit, preference)} {words}".strip()


def bare_text(value: float, unit: str, preference: str) -> str:
    """The number without its unit, where the unit follows from the number beside it."""
    if unit in AMOUNTS:
        return _amount_text(value, unit, preference)
    places = UNITS.get(unit, (unit, 2))[1]
    # From ten on the second decimal of a concentration is no more than noise.
    return f"{value:.{1 if unit == 'g/L' and abs(value) >= 10 else places}f}"


def _amount_text(value: float, unit: str, preference: str) -> str:
    base, size = AMOUNTS[unit]
    thousandths = round(value * size)
    if preference == METRIC and abs(thousandths) < SMALL:
        word = "mL" if base is Base.UL else "g"
        places = 3 if abs(thousandths) < 1_000 else 2 if abs(thousandths) < 10_000 else 1
        return f"{thousandths / 1000:.{places}f} {word}"
    sign = "-" if thousandths < 0 else ""
    return sign + measures.format_quantity(abs(thousandths), base=base, preference=preference)


def note_of(figure: Figure) -> str:
    """By which rule, and where it holds, as sentences for the note that opens; may be empty."""
    parts = [
        f"By {figure.rule}." if figure.rule else "",
        f"Holds for {figure.validity}." if figure.validity else "",
    ]
    return " ".join(part for part in parts if part)
