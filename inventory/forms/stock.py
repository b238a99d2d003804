"""What is typed when something is received, used, counted, put right or thrown out?"""

from django import forms

from inventory import clock, overview
from inventory.fields import DayField, LineField
from inventory.forms.amounts import AmountField, OfItemForm, OnField, PlaceField, PriceField
from inventory.forms.base import EditForm, HouseForm
from inventory.forms.filters import ListFilter

MORE, LESS = "more", "less"


class ReceiveForm(OfItemForm):
    quantity = AmountField(label="How much", zero_ok=False)
    on = OnField(label="Received on")
    use_by = DayField(
        label="Use by",
        required=False,
        help_text="The last day on which it may be used. Empty: by how long the item keeps sealed.",
    )
    place = PlaceField()
    origin = LineField(
        label="From", required=False, most=120, help_text="Shop, garden, neighbour or hedge."
    )
    cost = PriceField(label="Paid", required=False, help_text="For all of it, for example 1.15.")


class LotForm(HouseForm):
    """Something done to one lot; its amounts are typed as its item is measured."""

    amounts = ("quantity",)

    def __init__(self, *args, lot, **kwargs):
        super().__init__(*args, **kwargs)
        self.measure(lot.item, *self.amounts)


class UseForm(LotForm):
    quantity = AmountField(label="How much is used", zero_ok=False)
    on = OnField(label="Used on")
    reason = LineField(label="What for", required=False, most=200)


class CountForm(LotForm):
    amounts = ("counted",)

    counted = AmountField(label="How much is there")
    on = OnField(label="Counted on")
    reason = LineField(label="Remark", required=False, most=200)


class AdjustForm(LotForm):
    direction = forms.ChoiceField(
        label="Which way",
        choices=[(MORE, "there is more than written down"), (LESS, "there is less")],
        widget=forms.RadioSelect,
        error_messages={"required": "Say whether there is more or less than written down."},
    )
    quantity = AmountField(label="By how much", zero_ok=False)
    on = OnField(label="Found on")
    reason = LineField(
        label="Why", most=200, help_text="For example a spill, or a slip of the pen."
    )

    def signed(self) -> int:
        quantity = self.cleaned_data["quantity"]
        return quantity if self.cleaned_data["direction"] == MORE else -quantity


class ThrowOutForm(LotForm):
    quantity = AmountField(
        label="How much", required=False, zero_ok=False, help_text="Empty: all that is left."
    )
    on = OnField(label="Thrown out on")
    reason = LineField(label="Why", most=200, help_text="For example mould, or past its date.")


class EditLotForm(EditForm):
    place = PlaceField()
    origin = LineField(label="From", required=False, most=120)
    use_by = DayField(
        label="Use by", required=False, help_text="The last day on which it may be used."
    )
    opened = DayField(
        label="Opened on",
        required=False,
        coming=False,
        help_text="Once opened it keeps as many days as its item says.",
    )
    cost = PriceField(label="Paid", required=False, help_text="For all of it, for example 1.15.")


class LotFilter(ListFilter):
    searched = ("mark", "item__name", "origin", "place__name")
    STATES = (
        ("", "on the shelf"),
        ("past", "past its date"),
        ("gone", "used up"),
        ("all", "all there ever were"),
    )

    state = forms.ChoiceField(label="Which", required=False, choices=STATES)

    def narrow(self, rows):
        rows = super().narrow(rows)
        state = self.cleaned_data["state"]
        if state == "all":
            return rows
        if state == "gone":
            return rows.filter(on_hand=0)
        rows = rows.filter(on_hand__gt=0)
        return overview.past_their_date(rows, clock.today()) if state == "past" else rows
