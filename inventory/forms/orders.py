"""What is typed about goods on their way, needs, shortfalls and shopping?"""

from django import forms

from inventory.fields import DayField, LineField
from inventory.forms.amounts import (
    AmountField,
    OfItemForm,
    OnField,
    PlaceField,
    PriceField,
)
from inventory.forms.base import HouseForm
from inventory.forms.filters import ListFilter
from inventory.models import Receipt

WITH_ITS_UNIT = "With its unit, as shown."


class ExpectForm(OfItemForm):
    quantity = AmountField(label="How much", zero_ok=False)
    due = DayField(label="Due", help_text="The day it should be here, for example fri or 27 Apr.")
    shop = LineField(label="Shop", required=False, most=80)
    note = LineField(label="Note", required=False, most=160)

    def __init__(self, *args, item=None, **kwargs):
        super().__init__(*args, item=item, **kwargs)
        if item:
            self.initial.setdefault("shop", item.shop)


class ReceiptForm(HouseForm):
    """Something about goods on their way."""

    def __init__(self, *args, receipt, **kwargs):
        self.receipt = receipt
        super().__init__(*args, **kwargs)


class ArriveForm(ReceiptForm):
    quantity = AmountField(
        label="How much came", zero_ok=False, help_text="If it is less, the rest stays expected."
    )
    on = OnField(label="Came on")
    use_by = DayField(
        label="Use by",
        required=False,
        help_text="The last day on which it may be used. Empty: by how long the item keeps sealed.",
    )
    place = PlaceField()
    cost = PriceField(label="Paid", required=False, help_text="For all of it, for example 1.15.")

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.measure(self.receipt.item, "quantity")
        self.initial.setdefault("quantity", self.receipt.quantity)


class MoveReceiptForm(ReceiptForm):
    due = DayField(label="New day", help_text="For example fri or 27 Apr.")

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.initial.setdefault("due", self.receipt.due)


class NeedForm(OfItemForm):
    quantity = AmountField(label="How much", zero_ok=False)
    day = DayField(label="Needed on", help_text="For example 12 Sep, sat or +14.")
    label = LineField(
        label="What for", most=160, help_text="For example jam, or a cake for the fair."
    )


class MoveNeedForm(HouseForm):
    day = DayField(label="New day", help_text="For example 20 Sep, sat or +14.")


class ShoppingForm(OfItemForm):
    """A line of the shopping list that is in the house now."""

    quantity = AmountField(label="How much", zero_ok=False, help_text=WITH_ITS_UNIT)
    on = OnField(label="Received on")


class ReceiptFilter(ListFilter):
    searched = ("item__name", "shop", "note")

    state = forms.ChoiceField(label="Which", required=False, choices=Receipt.State.choices)

    def narrow(self, rows):
        state = self.cleaned_data["state"] or Receipt.State.EXPECTED
        return super().narrow(rows).filter(state=state)


class OrderForm(HouseForm):
    """All of a shop's list at once."""

    shop = forms.CharField(max_length=80, required=False, widget=forms.HiddenInput)
    due = DayField(label="To be here on", help_text="For example fri or 27 Apr.")
