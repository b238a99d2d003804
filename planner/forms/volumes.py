"""What is typed about how much of a batch there is?"""

from django import forms

from inventory.fields import LineField, QuantityField
from inventory.forms.amounts import OnField
from inventory.forms.base import HouseForm
from inventory.units import Base
from planner.models import Batch
from planner.progress import ENDED
from planner.volumes import BY_HAND

MEASURED = "measured"


class VolumeForm(HouseForm):
    cause = forms.ChoiceField(
        label="What happened",
        choices=[
            (MEASURED, "it was measured: so much is there"),
            *((cause.value, cause.label) for cause in BY_HAND),
        ],
    )
    amount = QuantityField(
        label="How much", base=Base.UL, help_text="For example 150 mL or 16.9 L.", zero_ok=False
    )
    on = OnField(label="On")
    note = LineField(label="Note", most=200, required=False)


class PartForm(HouseForm):
    amount = QuantityField(
        label="How much goes with the new batch", base=Base.UL, zero_ok=False,
        help_text="For example 6 L.",
    )  # fmt: skip
    name = LineField(
        label="What it is called", most=80, required=False, help_text="Empty: this name, part."
    )
    on = OnField(label="On")


class PourForm(HouseForm):
    target = forms.ModelChoiceField(
        Batch.objects.none(), label="Into", empty_label="choose a batch"
    )
    amount = QuantityField(
        label="How much",
        base=Base.UL,
        zero_ok=False,
        required=False,
        help_text="Empty: all of it, and nothing more is to do here.",
    )
    on = OnField(label="On")

    def __init__(self, *args, batch, **kwargs):
        super().__init__(*args, **kwargs)
        rows = Batch.objects.exclude(state__in=ENDED).exclude(pk=batch.pk)
        self.fields["target"].queryset = rows.order_by("-start", "name")
