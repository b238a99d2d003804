"""Which amounts, prices and items are typed or chosen in the forms of the store?"""

from django import forms

from inventory import clock, units
from inventory.fields import DayField, NumberField, QuantityField
from inventory.forms.base import HouseForm
from inventory.models import Item, StoragePlace
from inventory.models.limits import MOST
from inventory.shown import money_text

# Beyond any household; keeps a slip of the key out.
MOST_PRICE = 1_000_000
ANY_UNIT = "With its unit, for example 2.5 kg or 750 mL, or 12 if it is counted by the piece."


class AmountField(QuantityField):
    """An amount of what the same form says; without that it is kept as typed and not read."""

    def __init__(self, **kwargs):
        super().__init__(**kwargs)
        self.help_text = self.own_help or ANY_UNIT

    def read(self, text):
        return None if self.base is None else super().read(text)

    def validate(self, value):
        """What must come first is refused at its own box, not at this one as well."""
        if self.base is not None:
            super().validate(value)


def read_amount(text: str, item: Item, *, preference: str, name: str = "How much") -> int:
    """An amount of an item that a form learns late, in whole thousandths; raises Refusal."""
    return units.parse_quantity(
        text, name=name, preference=preference, zero_ok=False, **item.measuring
    )


class PriceField(NumberField):
    """A price typed as 1.15; cleans to whole hundredths, or None."""

    def __init__(self, **kwargs):
        super().__init__(low=0, high=MOST_PRICE, places=2, **kwargs)

    def read(self, text):
        return int(super().read(text) * 100)

    def prepare_value(self, value):
        return value if value is None or isinstance(value, str) else money_text(value)


class WholeNumberField(NumberField):
    def read(self, text):
        return int(super().read(text))


class PlaceField(forms.ModelChoiceField):
    """Where it is kept; may stay open."""

    def __init__(self, **kwargs):
        kwargs = {"label": "Place", "required": False, "empty_label": "no place noted"} | kwargs
        super().__init__(StoragePlace.objects.all(), **kwargs)


class OnField(DayField):
    """The day on which something was done; today unless another is typed."""

    def __init__(self, **kwargs):
        super().__init__(coming=False, **{"label": "Day", "initial": clock.today} | kwargs)


class OfItemForm(HouseForm):
    """A form about one item, which is either given or chosen in the form itself."""

    amounts = ("quantity",)

    item = forms.ModelChoiceField(
        Item.objects.none(),
        label="Item",
        empty_label="choose an item",
        error_messages={"required": "Choose an item."},
    )

    def __init__(self, *args, item=None, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["item"].queryset = Item.objects.filter(archived=False)
        if item:
            self.fields["item"].initial = item
            self.fields["item"].widget = forms.HiddenInput()
        measured = item or self._chosen()
        if measured:
            self.measure(measured, *self.amounts)

    def _chosen(self):
        try:
            return self.fields["item"].clean(self.data.get("item"))
        except forms.ValidationError:
            return None


class ItemAsked(forms.Form):
    """The item an address asks for (?item=), if there is one."""

    item = forms.ModelChoiceField(Item.objects.filter(archived=False), required=False)

    def found(self):
        return self.cleaned_data["item"] if self.is_valid() else None


class OrderAsked(ItemAsked):
    """What an address says about an order: the item, how much, by when, and where to go then."""

    quantity = forms.IntegerField(min_value=1, max_value=MOST, required=False)
    due = DayField(required=False)
    then = forms.ChoiceField(choices=[("shopping", "shopping")], required=False)

    def initial_order(self):
        names = ("quantity", "due") if self.is_valid() else ()
        return {name: self.cleaned_data[name] for name in names if self.cleaned_data[name]}

    def from_shopping(self):
        return self.is_valid() and self.cleaned_data["then"] == "shopping"
