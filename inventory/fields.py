"""The one number, quantity, day and text field of every form and every import."""

import datetime as dt
from collections.abc import Mapping
from decimal import Decimal
from fractions import Fraction

from django import forms
from django.forms.utils import pretty_name

from inventory import clock, typed, units
from inventory.refusals import Refusal


class TypedField(forms.Field):
    """Reads typed text by a pure function and turns its Refusal into a form error."""

    widget = forms.TextInput
    default_error_messages = {"required": "Nothing is typed here yet, and it is needed."}

    def __init__(self, **kwargs):
        super().__init__(**kwargs)
        self.name = str(self.label or "This")

    def get_bound_field(self, form, field_name):
        if self.label is None:
            self.name = pretty_name(field_name)
        return super().get_bound_field(form, field_name)

    def widget_attrs(self, widget):
        return super().widget_attrs(widget) | {"autocomplete": "off"}

    def bound_data(self, data, initial):
        """Keep what was typed, less the half letters that no page can carry."""
        return data.encode(errors="replace").decode() if isinstance(data, str) else data

    def to_python(self, value):
        text = "" if value is None else str(value)
        try:
            return self.read(text) if text.strip() else self.empty()
        except Refusal as no:
            raise forms.ValidationError(no.message, code="refused") from None

    def empty(self):
        return None

    def read(self, text: str):
        raise NotImplementedError


class NumberField(TypedField):
    """A number from `low` to `high`; cleans to a Decimal with `places` decimals, or None."""

    def __init__(
        self,
        *,
        low: Decimal | int,
        high: Decimal | int,
        places: int = 0,
        three_places_ok: bool = False,
        decimal_mark: str = ".",
        **kwargs,
    ):
        self.low, self.high, self.places = low, high, places
        self.three_places_ok, self.decimal_mark = three_places_ok, decimal_mark
        super().__init__(**kwargs)

    def widget_attrs(self, widget):
        # The number pad of some telephones has no minus.
        return super().widget_attrs(widget) | {"inputmode": "text" if self.low < 0 else "decimal"}

    def read(self, text):
        return typed.parse_number(
            text,
            name=self.name,
            low=self.low,
            high=self.high,
            places=self.places,
            three_places_ok=self.three_places_ok,
        )

    def prepare_value(self, value):
        if value is None or isinstance(value, str):
            return value
        return typed.number_text(
            Decimal(str(value)),
            three_places_ok=self.three_places_ok,
            decimal_mark=self.decimal_mark,
        )


class QuantityField(TypedField):
    """An amount of one item; cleans to whole thousandths, or None.

    A form that learns its item late calls `measure` from its own `__init__`.
    """

    def __init__(
        self,
        *,
        base: str | None = None,
        preference: str = units.METRIC,
        zero_ok: bool = True,
        **kwargs,
    ):
        super().__init__(**kwargs)
        self.zero_ok, self.base, self.own_help = zero_ok, None, self.help_text
        if base is not None:
            self.measure(base, preference=preference)

    def measure(
        self,
        base: str,
        *,
        preference: str = units.METRIC,
        density_mg_per_ul: Fraction | None = None,
        spoons: Mapping[str, int] | None = None,
        default_unit: str | None = None,
        decimal_mark: str = ".",
    ) -> None:
        """Say how the item is measured, and how the person likes to measure."""
        self.base, self.preference, self.decimal_mark = units.Base(base), preference, decimal_mark
        self.item = {
            "density_mg_per_ul": density_mg_per_ul,
            "spoons": spoons,
            "default_unit": default_unit,
        }
        # The number pad of telephones has no letters, and weights are typed with their unit.
        pieces = self.base is units.Base.MPC
        self.widget.attrs["inputmode"] = "decimal" if pieces else "text"
        hint = units.quantity_hint(base, preference, default_unit)
        self.help_text = self.own_help or f"{hint[0].upper()}{hint[1:]}."

    def read(self, text):
        return units.parse_quantity(
            text,
            base=self.measured(),
            name=self.name,
            preference=self.preference,
            zero_ok=self.zero_ok,
            **self.item,
        )

    def measured(self) -> units.Base:
        if self.base is None:
            raise RuntimeError("Call measure() before a quantity is read or shown.")
        return self.base

    def prepare_value(self, value):
        if value is None or isinstance(value, str):
            return value
        return units.editable_quantity(
            value,
            base=self.measured(),
            preference=self.preference,
            decimal_mark=self.decimal_mark,
        )


class DayField(TypedField):
    """A day of the years 1900 to 2199; `coming` false reads a day without a year as a past one."""

    def __init__(self, *, coming: bool = True, **kwargs):
        self.coming = coming
        super().__init__(**kwargs)

    def read(self, text):
        return typed.parse_date(text, name=self.name, today=clock.today(), coming=self.coming)

    def prepare_value(self, value):
        return typed.date_text(value) if isinstance(value, dt.date) else value


class LineField(TypedField):
    """One line of text without what cannot be seen; empty is an empty text."""

    lines = False

    def __init__(self, *, most: int = 200, **kwargs):
        self.most = most
        super().__init__(**kwargs)

    def widget_attrs(self, widget):
        return super().widget_attrs(widget) | {"maxlength": str(self.most)}

    def empty(self):
        return ""

    def read(self, text):
        return typed.clean_text(text, name=self.name, most=self.most, lines=self.lines)


class TextField(LineField):
    """Several lines of text."""

    widget = forms.Textarea
    lines = True

    def __init__(self, *, most: int = 4000, **kwargs):
        super().__init__(most=most, **kwargs)
