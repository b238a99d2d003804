"""What did a person mean by the number, day or text they typed? A value, or a Refusal in words."""

import re
import unicodedata
from calendar import monthrange
from datetime import date, timedelta
from decimal import Decimal
from fractions import Fraction

from inventory.refusals import Refusal

LONGEST = 60
SHOWN = 40
FIRST_YEAR = 1900
LAST_YEAR = 2199

DECIMAL = re.compile(r"([+-]?)(?=[.,]?[0-9])([0-9]*)(?:[.,]([0-9]+))?")
MIXED = re.compile(r"([+-]?)(?:([0-9]+) )?([0-9]+) ?/ ?([0-9]+)")
GROUPED_BY_SPACES = re.compile(r"[+-]?[0-9]{1,3}(?: [0-9]{3})+(?:[.,][0-9]+)?")
GROUPED_BY_MARKS = re.compile(r"[+-]?[0-9]{1,3}(?:[.,'’][0-9]{3})+(?:[.,][0-9]+)?")
THOUSANDS_OR_FRACTION = re.compile(r"[+-]?(?=[0-9]*[1-9][0-9]*[.,])[0-9]{1,3}[.,][0-9]{3}")

MONTHS = ["january", "february", "march", "april", "may", "june"]
MONTHS += ["july", "august", "september", "october", "november", "december"]
WEEKDAYS = ["monday", "tuesday", "wednesday", "thursday", "friday", "saturday", "sunday"]
NEAR_DAYS = {"yesterday": -1, "today": 0, "tomorrow": 1}
DAYS_AHEAD = re.compile(r"\+ ?([0-9]{1,4})|in ([0-9]{1,4}) (day|week)s?")
DAYS_BACK = re.compile(r"- ?([0-9]{1,4})|([0-9]{1,4}) (day|week)s? ago")
YEAR_FIRST = re.compile(r"([0-9]{4})([./-])([0-9]{1,2})\2([0-9]{1,2})")
DAY_FIRST = re.compile(r"([0-9]{1,2})([./-])([0-9]{1,2})(?:\2([0-9]+)|\.)?")
NAMED_MONTH = re.compile(r"([0-9]{1,2})(?:st|nd|rd|th)?[ .-]*([a-z]{3,9})\.?(?:[ ,-]+([0-9]+))?")
MONTH_BEFORE = re.compile(r"([a-z]{3,9})\.? ([0-9]{1,2})(?:st|nd|rd|th)?(?:,? ([0-9]+))?")
WANTED_DAY = "Type a day such as 2026-09-12, 12 Sep, 12/9/2026, tomorrow, sat or +7."

# Explicit direction marks: Unicode Standard Annex 9, section 2 (from memory).
TURNING = "\u202a\u202b\u202c\u202d\u202e\u2066\u2067\u2068\u2069"
BLANKS = "\u200b\u2060\ufeff"
UNSEEN = ("Cc", "Cf", "Zs", "Zl", "Zp")


class Fault(Exception):
    """Why typed text cannot be read; becomes a Refusal that names the box and the text."""


def refusal(name: str, text: str, says: object) -> Refusal:
    """Return the Refusal that names the box, what was typed there and what to do about it."""
    return Refusal(f"{name}: {quoted(text)} {says}", field=name)


def quoted(text: str) -> str:
    """Return what was typed between quotation marks, cut short and made printable."""
    words = " ".join(text[:SHOWN].split())
    shown = "".join(letter if letter.isprintable() else "\ufffd" for letter in words)
    return f'"{shown}{"…" if len(text) > SHOWN else ""}"'


def plain(text: str) -> str:
    """Return typed text with one kind of digit, space, minus and fraction bar (NFKC)."""
    folded = unicodedata.normalize("NFKC", "".join(_unfolded(letter) for letter in text))
    return " ".join(folded.replace("\u2212", "-").replace("\u2044", "/").split())


def _unfolded(letter: str) -> str:
    """Keep NFKC from turning 1½ into 11/2, 5² into 52 and a circled 1 into 1."""
    kind = unicodedata.decomposition(letter).partition(" ")[0]
    if kind == "<fraction>":
        return f" {letter}"
    return "\ufffd" if kind in ("<super>", "<sub>", "<circle>") else letter


def parse_number(
    text: str,
    *,
    name: str,
    low: Decimal | int,
    high: Decimal | int,
    places: int,
    three_places_ok: bool = False,
) -> Decimal:
    """Return the number typed, with `places` decimals, from `low` to `high` inclusive.

    One decimal point or comma, or a fraction (1/2, ½, 1 1/2). More decimals than `places` are
    refused; only a fraction that never comes out even (1/3) is rounded, and by 1 % at most.
    No grouping of thousands: "12 000" is refused, and "1,234" or "1.234" is asked about unless
    `three_places_ok`, which reads it as a little over one (a gravity).
    """
    if not text.strip():
        raise Refusal(f"{name}: type a number from {low} to {high}.", field=name)
    try:
        value = _in_places(read_number(text, three_places_ok=three_places_ok), places)
    except Fault as fault:
        raise refusal(name, text, fault) from None
    if not low <= value <= high:
        raise refusal(name, text, f"is outside the range. Type a number from {low} to {high}.")
    return value


def read_number(text: str, *, three_places_ok: bool = False) -> Fraction:
    """Return the exact number typed, of at most 60 letters; raises Fault."""
    if len(text) > LONGEST:
        raise Fault("is too long for a number.")
    shape = plain(text)
    if any(letter.isnumeric() and not letter.isascii() for letter in shape):
        raise Fault("has digits that are not read here. Type it with the digits 0 to 9.")
    if not three_places_ok and THOUSANDS_OR_FRACTION.fullmatch(shape):
        whole, decimals = re.split("[.,]", shape)
        raise Fault(
            "can be read in two ways: is that thousands or a fraction? "
            f"Type {whole}{decimals} for thousands, {whole}.{decimals}0 for a fraction."
        )
    if found := DECIMAL.fullmatch(shape):
        sign, whole, decimals = found.groups(default="")
        return Fraction(f"{sign}{whole or 0}.{decimals or 0}")
    if found := MIXED.fullmatch(shape):
        return _mixed(*found.groups())
    raise Fault(_unread_number(shape))


def _mixed(sign: str, whole: str | None, top: str, bottom: str) -> Fraction:
    if int(bottom) == 0 or (whole and int(top) >= int(bottom)):
        raise Fault("is not a fraction that can be read. Type one such as 1/2 or 1 1/2.")
    value = int(whole or 0) + Fraction(int(top), int(bottom))
    return -value if sign == "-" else value


def _unread_number(shape: str) -> str:
    if GROUPED_BY_SPACES.fullmatch(shape):
        return f"has a space inside. Type it without: {shape.replace(' ', '')}."
    if GROUPED_BY_MARKS.fullmatch(shape):
        return "has marks between the thousands. Leave them out, such as 1234567 or 1234.5."
    return "is not a number. Type digits with one point or comma, such as 2.5, or 1 1/2."


def _in_places(value: Fraction, places: int) -> Decimal:
    scaled = round(value * 10**places)
    miss = abs(Fraction(scaled, 10**places) - value)
    comes_out_even = 10**LONGEST % value.denominator == 0
    if miss and (comes_out_even or miss * 100 > abs(value)):
        wanted = f"at most {places} places after the point" if places else "a whole number"
        raise Fault(f"is too fine. Type {wanted}.")
    return Decimal(f"{scaled}E-{places}")


def number_text(value: Decimal, *, three_places_ok: bool = False, decimal_mark: str = ".") -> str:
    """Return the text that `parse_number` reads back as the same number, for an edit form."""
    text = f"{value:f}"
    if "." in text:
        text = text.rstrip("0").rstrip(".")
    if not three_places_ok and THOUSANDS_OR_FRACTION.fullmatch(text):
        text += "0"
    return text.replace(".", decimal_mark)


def parse_date(text: str, *, name: str, today: date, coming: bool = True) -> date:
    """Return the day typed, of the years 1900 to 2199.

    Numbers stand day first; ISO stands year first. A day without a year is the nearest one from
    today on, within 12 months; a weekday is the next one after today. With `coming` false both
    look back instead, for what already happened: up to today, and before today.
    """
    shape = plain(text[: LONGEST + 1]).casefold()
    try:
        if len(text) > LONGEST or not shape:
            raise Fault(f"is not a day. {WANTED_DAY}")
        found = _relative_day(shape, today, coming) or _written_day(shape, today, coming)
        if not FIRST_YEAR <= found.year <= LAST_YEAR:
            raise Fault(f"is outside the years {FIRST_YEAR} to {LAST_YEAR}.")
    except Fault as fault:
        raise refusal(name, text, fault) from None
    return found


def _relative_day(shape: str, today: date, coming: bool) -> date | None:
    if shape in NEAR_DAYS:
        return today + timedelta(days=NEAR_DAYS[shape])
    for pattern, way in ((DAYS_AHEAD, 1), (DAYS_BACK, -1)):
        if found := pattern.fullmatch(shape):
            bare, counted, unit = found.groups()
            return today + timedelta(days=way * int(bare or counted) * (7 if unit == "week" else 1))
    if (weekday := _named(shape, WEEKDAYS)) is None:
        return None
    way = 1 if coming else -1
    return today + timedelta(days=way * ((way * (weekday - today.weekday()) - 1) % 7 + 1))


def _named(word: str, names: list[str]) -> int | None:
    """Return the place of the name that begins with `word`, three letters or more."""
    fits = [place for place, known in enumerate(names) if known.startswith(word)]
    return fits[0] if fits and len(word) >= 3 else None


def _written_day(shape: str, today: date, coming: bool) -> date:
    day, month, year = _parts(shape)
    if year is None:
        return _nearest(day, month, today, coming)
    if len(year) != 4:
        raise Fault("needs the year with four digits, such as 12/9/2026.")
    return _existing(int(year), month, day)


def _parts(shape: str) -> tuple[int, int, str | None]:
    if found := YEAR_FIRST.fullmatch(shape):
        return int(found[4]), int(found[3]), found[1]
    if found := DAY_FIRST.fullmatch(shape):
        return int(found[1]), int(found[3]), found[4]
    if found := NAMED_MONTH.fullmatch(shape):
        day, word, year = found.groups()
    elif found := MONTH_BEFORE.fullmatch(shape):
        word, day, year = found.groups()
    else:
        raise Fault(f"is not a day. {WANTED_DAY}")
    if (month := _named(word, MONTHS)) is None:
        raise Fault(f"is not a day. {WANTED_DAY}")
    return int(day), month + 1, year


def _nearest(day: int, month: int, today: date, coming: bool) -> date:
    asked, now = (month, day), (today.month, today.day)
    step = int(asked < now) if coming else -int(asked > now)
    return _existing(today.year + step, month, day)


def _existing(year: int, month: int, day: int) -> date:
    if not FIRST_YEAR <= year <= LAST_YEAR:
        raise Fault(f"is outside the years {FIRST_YEAR} to {LAST_YEAR}.")
    if not 1 <= month <= 12:
        raise Fault(f"has no month {month}: the day comes first, then the month. {WANTED_DAY}")
    longest = monthrange(year, month)[1]
    if not 1 <= day <= longest:
        month_name = MONTHS[month - 1].capitalize()
        raise Fault(f"is no day there is: {month_name} {year} has {longest} days.")
    return date(year, month, day)


def date_text(day: date) -> str:
    """Return the text that `parse_date` reads back as the same day, for an edit form."""
    return f"{day.day} {MONTHS[day.month - 1][:3].capitalize()} {day.year}"


def clean_text(text: str, *, name: str, most: int, lines: bool = False) -> str:
    """Return typed text without what cannot be seen: control letters and marks that turn text round.

    NFC, trimmed, one space between words; `lines` keeps line breaks and the spaces inside a line.
    Refused: NUL, half letters (lone surrogates) and more than `most` letters.
    """
    if len(text) > 2 * most + 1000:
        raise refusal(name, text, f"is too long: {len(text)} letters, and {most} is the most.")
    if any(letter == "\0" or "\ud800" <= letter <= "\udfff" for letter in text):
        raise refusal(name, text, "has a broken letter in it. Type it again.")
    rows = [_visible(row, lines) for row in text.splitlines()]
    trimmed = "\n".join(rows).strip() if lines else " ".join(" ".join(rows).split())
    cleaned = unicodedata.normalize("NFC", trimmed)
    if all(unicodedata.category(letter) in UNSEEN for letter in cleaned):
        return ""
    if len(cleaned) > most:
        raise refusal(name, text, f"is too long: {len(cleaned)} letters, and {most} is the most.")
    return cleaned


def _visible(row: str, lines: bool) -> str:
    seen = "".join(
        letter
        for letter in row.replace("\t", " ")
        if unicodedata.category(letter) != "Cc" and letter not in TURNING + BLANKS
    )
    return seen.rstrip() if lines else seen
