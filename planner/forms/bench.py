"""The boxes of one sum of the bench, and its answer."""

from django import forms
from django.utils.text import capfirst

from inventory.forms.base import HouseForm
from inventory.measures import US
from planner.bench import Answer, Ask, Sum
from planner.bench.asks import CHOICE, COUNTS, GRAMS, GRAVITY, LITRES, NUMBERS, SIZES, TEMPERATURE
from planner.fields import (
    AmountInField,
    CountsField,
    FloatField,
    GravityField,
    NumbersField,
    SizesField,
    TemperatureField,
)


class BenchForm(HouseForm):
    """A sum as a form by GET: what is typed stays in the address."""

    def __init__(self, data=None, *, what: Sum, person=None):
        super().__init__(self._with_choices(what, data), person=person)
        self.what = what
        for ask in what.asks:
            self.fields[ask.key] = self._field(ask)

    @staticmethod
    def _with_choices(what: Sum, data):
        """An address may leave out what has a usual value."""
        if data is None:
            return None
        usual = {ask.key: ask.initial for ask in what.asks if ask.initial}
        return usual | {ask.key: data[ask.key] for ask in what.asks if ask.key in data}

    def _field(self, ask: Ask) -> forms.Field:
        about = {"label": ask.label, "required": ask.required, "help_text": ask.help}
        about["initial"] = ask.initial
        if ask.kind == CHOICE:
            return forms.ChoiceField(choices=ask.choices, **about)
        if ask.kind == GRAVITY:
            return GravityField(**about)
        if ask.kind == TEMPERATURE:
            return self._temperature(about)
        if ask.kind == SIZES:
            return SizesField(preference=self.preference, **about)
        if ask.kind == COUNTS:
            return CountsField(**about)
        if ask.kind == NUMBERS:
            return NumbersField(low=ask.low, high=ask.high, **about)
        if ask.kind in (LITRES, GRAMS):
            return self._amount(ask.kind, about)
        return FloatField(low=ask.low, high=ask.high, **about)

    def _temperature(self, about: dict) -> TemperatureField:
        found = TemperatureField(**about)
        found.fahrenheit = self.preference == US
        return found

    def _amount(self, kind: str, about: dict) -> AmountInField:
        base, unit, size = ("uL", "l", 1_000_000) if kind == LITRES else ("mg", "g", 1_000)
        found = AmountInField(base=base, unit=unit, size=size, **about)
        found.preference = self.preference
        return found

    def answer(self) -> Answer | None:
        """What comes out; a rule that does not hold is said at the box it is about."""
        if not self.is_valid():
            return None
        try:
            return self.what.work(self.cleaned_data)
        except ValueError as wrong:
            says = str(wrong)
            ask = self.what.ask_named(says)
            self.add_error(ask.key if ask else None, f"{capfirst(says)}.")
            return None
