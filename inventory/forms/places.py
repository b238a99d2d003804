from django import forms

from inventory.fields import LineField, NumberField
from inventory.forms.base import EditForm, HouseForm

# Nothing in a house keeps drink colder or warmer than this.
COLDEST_C, HOTTEST_C = -40, 60


class TemperatureField(NumberField):
    def __init__(self, **kwargs):
        super().__init__(low=COLDEST_C, high=HOTTEST_C, required=False, **kwargs)


class PlaceForm(HouseForm):
    name = LineField(label="Name", most=60, help_text="For example cellar, top shelf or fridge.")
    coolest_c = TemperatureField(label="Coolest it gets, °C")
    ordinary_c = TemperatureField(label="Ordinarily, °C")
    warmest_c = TemperatureField(
        label="Warmest it gets, °C",
        help_text="In the hottest week of the year. Leave a figure empty if it is not known.",
    )
    dark = forms.BooleanField(label="It is dark there", required=False, initial=True)


class PlaceEditForm(EditForm, PlaceForm):
    pass
