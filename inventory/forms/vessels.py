from django import forms

from inventory.fields import DayField, LineField, QuantityField
from inventory.forms.base import EditForm, HouseForm
from inventory.models.vessels import VesselKind
from inventory.units import Base


class VesselForm(HouseForm):
    name = LineField(label="Name", most=60, help_text="For example Large bucket or Jar 1.")
    kind = forms.ChoiceField(label="Kind", choices=VesselKind.choices, widget=forms.RadioSelect)
    brimful = QuantityField(label="What it holds to the brim", base=Base.UL, zero_ok=False)
    mouth = LineField(
        label="Mouth, and what fits it", most=60, required=False, help_text="40 mm, bung no. 6."
    )
    marks = LineField(
        label="Marks on it",
        most=80,
        required=False,
        help_text="Litres scratched or taped, such as 5, 10, 15.",
    )
    airlock = forms.BooleanField(label="Takes an airlock", required=False)
    blow_off = forms.BooleanField(label="Takes a hose for the foam", required=False)
    note = LineField(label="Note", most=160, required=False)


class VesselEditForm(EditForm, VesselForm):
    archived = forms.BooleanField(
        label="Put away for good", required=False, help_text="It is no longer offered for batches."
    )


class LendVesselForm(HouseForm):
    to = LineField(label="To whom", most=80)
    back_by = DayField(label="Wanted back on", required=False)
