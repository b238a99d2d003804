"""A shelf counted on one page: a box for each lot, and those left empty are not counted."""

from django import forms

from inventory.fields import LineField
from inventory.forms.amounts import AmountField, OnField, PlaceField
from inventory.forms.base import HouseForm
from inventory.models import Lot
from inventory.shown import quantity_text


class ShelfForm(forms.Form):
    """Which shelf is counted."""

    place = PlaceField(label="Which shelf", empty_label="every place")

    def narrow(self, lots):
        if not self.is_valid() or self.cleaned_data["place"] is None:
            return lots
        return lots.filter(place=self.cleaned_data["place"])


class StocktakeForm(HouseForm):
    on = OnField(label="Counted on")
    reason = LineField(label="Remark", required=False, most=200)

    def __init__(self, *args, lots: list[Lot], **kwargs):
        super().__init__(*args, **kwargs)
        self.lots = lots
        for lot in lots:
            name = f"lot_{lot.pk}"
            self.fields[name] = AmountField(label=f"{lot.item}, {lot.mark}", required=False)
            self.measure(lot.item, name)
            recorded = quantity_text(lot.on_hand, lot.item, self.preference)
            where = lot.place or "no place noted"
            self.fields[name].help_text = f"{where}; recorded {recorded}"

    def counted(self) -> dict[int, int]:
        found = {lot.pk: self.cleaned_data.get(f"lot_{lot.pk}") for lot in self.lots}
        return {key: amount for key, amount in found.items() if amount is not None}
