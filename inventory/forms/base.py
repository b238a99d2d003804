"""What every form knows: who types, how their amounts are measured, and where a refusal belongs."""

from django import forms

from inventory.fields import NumberField, QuantityField
from inventory.models import Item
from inventory.refusals import Refusal
from inventory.units import METRIC


class HouseForm(forms.Form):
    """A form filled in by `person`; amounts read and show in the units that person likes."""

    def __init__(self, *args, person=None, **kwargs):
        super().__init__(*args, **kwargs)
        self.person = person
        for field in self.fields.values():
            if isinstance(field, QuantityField) and field.base is not None:
                field.measure(field.base, preference=self.preference)

    @property
    def preference(self) -> str:
        return self.person.units if self.person else METRIC

    def measure(self, item: Item, *names: str) -> None:
        """Let the named amounts be typed in the ways this item can be measured."""
        for name in names:
            self.fields[name].measure(preference=self.preference, **item.measuring)

    def apply_refusal(self, refusal: Refusal) -> None:
        """Show what a domain function refused at its box, or above the form."""
        field = refusal.field if refusal.field in self.fields else None
        self.add_error(field, refusal.message)

    def values(self) -> dict:
        """What is to be written, by the names of the columns; whole numbers as such."""
        return {
            name: int(value) if self._is_whole(name) and value is not None else value
            for name, value in self.cleaned_data.items()
        }

    def _is_whole(self, name: str) -> bool:
        field = self.fields[name]
        return isinstance(field, NumberField) and field.places == 0


class EditForm(HouseForm):
    """Changes the row `instance`; the version it carries tells whether somebody saved meanwhile."""

    version = forms.IntegerField(min_value=1, widget=forms.HiddenInput)

    def __init__(self, *args, instance, initial=None, **kwargs):
        super().__init__(*args, initial=self.initial_of(instance) | (initial or {}), **kwargs)
        self.instance = instance

    @classmethod
    def initial_of(cls, instance) -> dict:
        return {name: getattr(instance, name) for name in cls.base_fields}

    def values(self) -> dict:
        return {name: value for name, value in super().values().items() if name != "version"}
