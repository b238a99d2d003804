"""Boxes for what is read off an instrument, and for plain numbers of the chemistry."""

import datetime as dt
import re
from fractions import Fraction

from inventory import typed, units
from inventory.fields import QuantityField, TypedField
from planner.typed_readings import parse_gravity, parse_temperature

CLOCK = re.compile(r"(\d{1,2})[:.h](\d{2})")
MOST_SIZES, MOST_COUNTED, MOST_NUMBERS = 8, 5000, 400


class GravityField(TypedField):
    """Cleans to a specific gravity as a float, or None."""

    def widget_attrs(self, widget):
        return super().widget_attrs(widget) | {"inputmode": "decimal"}

    def read(self, text):
        return parse_gravity(text, name=self.name)

    def prepare_value(self, value):
        return value if value is None or isinstance(value, str) else f"{value:.4f}"


class TemperatureField(TypedField):
    """Cleans to degrees Celsius as a float, or None; a bare number is on the person's scale."""

    fahrenheit = False

    def read(self, text):
        return parse_temperature(text, name=self.name, fahrenheit=self.fahrenheit)


class ClockField(TypedField):
    """Cleans to a time of day, or None."""

    def read(self, text):
        found = CLOCK.fullmatch(text.strip())
        if not found or int(found[1]) > 23 or int(found[2]) > 59:
            raise typed.refusal(self.name, text, "is no time of day. Type one such as 14:30.")
        return dt.time(int(found[1]), int(found[2]))

    def prepare_value(self, value):
        return f"{value:%H:%M}" if isinstance(value, dt.time) else value


class FloatField(TypedField):
    """Cleans to a float within its range, or None."""

    def __init__(self, *, low: float, high: float, **kwargs):
        self.low, self.high = low, high
        super().__init__(**kwargs)

    def widget_attrs(self, widget):
        return super().widget_attrs(widget) | {"inputmode": "decimal"}

    def read(self, text):
        try:
            value = float(typed.read_number(text, three_places_ok=True))
        except typed.Fault as fault:
            raise typed.refusal(self.name, text, fault) from None
        if not self.low <= value <= self.high:
            span = f"{self.low:g} to {self.high:g}"
            raise typed.refusal(
                self.name, text, f"is outside the range. Type a number from {span}."
            )
        return value


class AmountInField(QuantityField):
    """A volume or weight as a float in `unit` (L or g), which a bare number is in as well."""

    def __init__(self, *, base: str, unit: str, size: int, **kwargs):
        self.unit, self.size = unit, size
        super().__init__(base=base, zero_ok=False, **kwargs)

    def measure(self, base, **kwargs):
        super().measure(base, **{"default_unit": self.unit} | kwargs)
        self.item["default_unit"] = self.unit

    def read(self, text):
        return super().read(text) / self.size


class SizesField(TypedField):
    """Volumes between commas as floats in litres, or None."""

    def __init__(self, *, preference: str = units.METRIC, **kwargs):
        self.preference = preference
        super().__init__(**kwargs)

    def read(self, text):
        parts = [part for part in text.replace(";", ",").split(",") if part.strip()]
        if len(parts) > MOST_SIZES:
            raise typed.refusal(self.name, text, f"names more than {MOST_SIZES} sizes.")
        return [
            float(
                Fraction(
                    units.parse_quantity(
                        part,
                        base="uL",
                        name=self.name,
                        preference=self.preference,
                        default_unit="ml",
                        zero_ok=False,
                    ),
                    1_000_000,
                )
            )
            for part in parts
        ]


class CountsField(TypedField):
    """Whole numbers between commas, or None."""

    def read(self, text):
        parts = [part.strip() for part in text.replace(";", ",").split(",") if part.strip()]
        for part in parts:
            digits = part.isascii() and part.isdigit() and len(part) <= len(str(MOST_COUNTED))
            if not digits or int(part) > MOST_COUNTED:
                raise typed.refusal(
                    self.name,
                    text,
                    f"is no list of whole numbers. Type, for example, 22, 1; at most {MOST_COUNTED} each.",
                )
        return [int(part) for part in parts[: MOST_SIZES + 1]]


class NumbersField(TypedField):
    """Numbers between blanks or semicolons, all within a range; cleans to floats, or None."""

    def __init__(self, *, low: float, high: float, count: int | None = None, **kwargs):
        self.low, self.high, self.count = low, high, count
        super().__init__(**kwargs)

    def widget_attrs(self, widget):
        return super().widget_attrs(widget) | {"inputmode": "text"}

    def read(self, text):
        parts = text.replace(";", " ").split()
        if self.count is not None and len(parts) != self.count:
            says = f"holds {len(parts)} numbers, {self.count} are wanted."
            raise typed.refusal(self.name, text, says)
        if len(parts) > MOST_NUMBERS:
            raise typed.refusal(self.name, text, f"holds more than {MOST_NUMBERS} numbers.")
        span = {"low": int(self.low), "high": int(self.high), "places": 3}
        return [float(typed.parse_number(part, name=self.name, **span)) for part in parts]
