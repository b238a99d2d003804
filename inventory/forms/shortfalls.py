"""By what are the shortfalls and the shopping list narrowed?"""

import datetime as dt

from django import forms

from inventory import overview
from inventory.forms.amounts import WholeNumberField
from inventory.models import Item

MOST_WEEKS = 520


def origin_choices():
    return [("", "anything planned"), *overview.origins()]


class HorizonFilter(forms.Form):
    """How far to look ahead."""

    weeks = WholeNumberField(
        label="Weeks ahead",
        low=1,
        high=MOST_WEEKS,
        required=False,
        widget=forms.TextInput(attrs={"placeholder": "all"}),
    )

    def horizon(self, today: dt.date) -> dt.date | None:
        weeks = self.cleaned_data["weeks"]
        return today + dt.timedelta(weeks=weeks) if weeks else None

    def narrow(self, rows):
        return rows


class ShortfallFilter(HorizonFilter):
    item = forms.ModelChoiceField(
        Item.objects.filter(archived=False), label="Item", required=False, empty_label="any item"
    )
    origin = forms.ChoiceField(label="Needed for", required=False, choices=origin_choices)

    field_order = ("item", "origin", "weeks")

    def asked(self, today: dt.date) -> dict:
        return {
            "item": self.cleaned_data["item"],
            "origin": self.cleaned_data["origin"] or None,
            "horizon": self.horizon(today),
        }
