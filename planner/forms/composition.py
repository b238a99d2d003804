"""What is in an ingredient, typed per 100 g."""

from django import forms

from inventory.fields import LineField, NumberField, QuantityField
from inventory.forms.base import EditForm, HouseForm
from inventory.units import Base
from planner.compositions import packaged_names
from planner.models.composition import AcidBasis, HowKnown

SHARE = {"low": 0, "high": 100, "places": 3, "three_places_ok": True, "required": False}
SHARES = ("sugar", "water", "acid", "tannin")
SIZE = 1000


class CompositionForm(HouseForm):
    packaged = forms.ChoiceField(
        label="Where nothing is typed, take",
        required=False,
        help_text="From the packaged table, taken on trust.",
    )
    sugar = NumberField(label="Sugar, g in 100 g", help_text="Empty: as the table has it.", **SHARE)
    water = NumberField(label="Water, g in 100 g", **SHARE)
    acid = NumberField(label="Acid, g in 100 g", **SHARE)
    acid_as = forms.ChoiceField(label="Acid counted as", choices=AcidBasis.choices)
    tannin = NumberField(label="Tannin, g in 100 g", **SHARE)
    nitrogen = NumberField(label="Nitrogen for yeast, mg in 100 g", **SHARE | {"high": 1000})
    cake = NumberField(
        label="Left in the press, mL for each kg",
        low=0,
        high=2000,
        required=False,
        help_text="Skins, stones and what clings to them.",
    )
    piece = QuantityField(
        label="One piece weighs",
        base=Base.MG,
        zero_ok=False,
        required=False,
        help_text="Only for what is counted by the piece, for example 90 g.",
    )
    known = forms.ChoiceField(
        label="How these figures are known", choices=HowKnown.choices, widget=forms.RadioSelect,
        initial=HowKnown.ON_TRUST,
    )  # fmt: skip
    source = LineField(
        label="Where they are from",
        most=160,
        required=False,
        help_text="Book, label, refractometer.",
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        names = [(name, name) for name in packaged_names()]
        self.fields["packaged"].choices = [("", "nothing: not known"), *names]

    def values(self) -> dict:
        """Thousandths, as the columns keep them."""
        values = super().values()
        for name in (*SHARES, "nitrogen"):
            typed = self.cleaned_data[name]
            values[name] = None if typed is None else int(typed * SIZE)
        return values


class EditCompositionForm(EditForm, CompositionForm):
    @classmethod
    def initial_of(cls, instance) -> dict:
        values = super().initial_of(instance)
        for name in (*SHARES, "nitrogen"):
            if values[name] is not None:
                values[name] = values[name] / SIZE
        return values
