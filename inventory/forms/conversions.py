"""What is typed when part of a lot is frozen, dried, steeped or put elsewhere?"""

from django import forms

from inventory.conversions import How
from inventory.fields import DayField, LineField
from inventory.forms.amounts import AmountField, OnField, PlaceField, read_amount
from inventory.forms.stock import LotForm
from inventory.models import Item
from inventory.refusals import Refusal


class ConvertForm(LotForm):
    amounts = ("amount",)

    how = forms.ChoiceField(label="What is done", choices=How.choices, widget=forms.RadioSelect)
    amount = AmountField(label="How much of it", zero_ok=False)
    into = forms.ModelChoiceField(
        Item.objects.none(), label="Put by as", empty_label="choose an item"
    )
    yields = LineField(
        label="What it comes to",
        most=40,
        required=False,
        help_text="Weighed afterwards, with its unit. Empty: as much as was taken.",
    )
    place = PlaceField(label="Where it is kept")
    use_by = DayField(
        label="Use by", required=False, help_text="Empty: by how long the item keeps sealed."
    )
    on = OnField(label="Done on")

    def __init__(self, *args, lot, **kwargs):
        super().__init__(*args, lot=lot, **kwargs)
        self.lot = lot
        self.fields["into"].queryset = Item.objects.filter(archived=False)
        self.initial.setdefault("into", lot.item_id)

    def clean(self):
        """What it comes to is measured as the item that it becomes."""
        found = super().clean()
        text, into = (found.get("yields") or "").strip(), found.get("into")
        if into and text:
            try:
                found["yields"] = read_amount(
                    text, into, preference=self.preference, name="What it comes to"
                )
            except Refusal as refusal:
                self.add_error("yields", refusal.message)
        elif into and into.base != self.lot.item.base:
            self.add_error("yields", f"Say how much of {into} it comes to.")
        elif into:
            found["yields"] = found.get("amount")
        return found
