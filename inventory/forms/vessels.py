from django import forms

from inventory.fields import LineField, QuantityField
from inventory.forms.base import EditForm, HouseForm
from inventory.models.vessels import VesselKind
from inventory.units import Base


class VesselForm(HouseForm):
    name = LineField(label="Name", most=60, help_text="For example Large bucket or Jar 1.")
    kind = forms.ChoiceField(label="Kind", choices=VesselKind.choices, widget=forms.RadioSelect)
    brimful = QuantityField(label="What it holds to the brim", base=Base.UL, zero_ok=False)
    note = LineField(label="Note", most=160, required=False)


class VesselEditForm(EditForm, VesselForm):
    archived = forms.BooleanField(
        label="Put away for good", required=False, help_text="It is no longer offered for batches."
    )
