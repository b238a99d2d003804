"""What is typed about patches, stages seen, and picks?"""

from django import forms
from django.utils import timezone

from inventory import clock
from inventory.fields import DayField, LineField, NumberField, QuantityField, TextField
from inventory.forms.amounts import OnField, PlaceField
from inventory.forms.base import EditForm, HouseForm
from inventory.forms.files import PhotoField
from inventory.models import Item
from inventory.units import Base
from planner.fields import ClockField
from planner.models import Patch, Plant
from planner.models.picks import Leave, Stage

TUBS = 4


class PlantsField(forms.ModelMultipleChoiceField):
    """Several plants; a key that no database holds is refused before one is asked."""

    def clean(self, value):
        for key in value or ():
            text = str(key)
            if not (text.isascii() and text.isdigit() and len(text) < 18):
                raise forms.ValidationError("Choose plants from the list.", code="invalid_choice")
        return super().clean(value)


class PatchForm(HouseForm):
    name = LineField(label="Name", most=60, help_text="A name of your own, such as Beck Bottom.")
    plants = PlantsField(Plant.objects.none(), label="What grows there", required=False)
    whereabouts = LineField(
        label="How to find it",
        most=200,
        required=False,
        help_text="Stays in this house: never in a calendar.",
    )
    leave = forms.ChoiceField(label="The owner's leave", choices=Leave.choices)
    protected = forms.BooleanField(label="A protected place", required=False)
    cap = QuantityField(
        label="Fair share in a season",
        base=Base.MG,
        zero_ok=False,
        required=False,
        help_text="Leave most for birds, others and seed; for example 4 kg.",
    )
    height_m = NumberField(label="Height above the sea, m", low=-400, high=5000, required=False)
    later_days = NumberField(
        label="Opens later than at the house, days",
        low=-60,
        high=60,
        initial=0,
        help_text="Below zero: earlier, as on a warm slope.",
    )
    notes = TextField(label="Notes", required=False)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["plants"].queryset = Plant.objects.all()


class EditPatchForm(EditForm, PatchForm):
    archived = forms.BooleanField(label="Not picked any more", required=False)

    @classmethod
    def initial_of(cls, instance):
        found = super().initial_of(instance)
        return found | {"plants": list(instance.plants.values_list("pk", flat=True))}


class OfPlantForm(HouseForm):
    """A form about a plant and perhaps a patch."""

    plant = forms.ModelChoiceField(
        Plant.objects.none(), label="Plant", empty_label="choose a plant", to_field_name="slug"
    )
    patch = forms.ModelChoiceField(
        Patch.objects.none(), label="Patch", required=False, empty_label="no patch named"
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["plant"].queryset = Plant.objects.all()
        self.fields["patch"].queryset = Patch.objects.filter(archived=False)


class ObservationForm(OfPlantForm):
    stage = forms.ChoiceField(label="How it is", choices=Stage.choices, widget=forms.RadioSelect)
    day = DayField(label="Seen on", coming=False, initial=clock.today)
    looked_before = forms.BooleanField(
        label="It was looked at the day before, and was not so yet", required=False
    )
    note = LineField(label="Note", most=200, required=False)
    photo = PhotoField(label="Picture")


class PickForm(OfPlantForm):
    on = OnField(label="Picked on")
    time = ClockField(
        label="At",
        required=False,
        help_text="14:30, since how long it keeps is counted from there; empty: now, or not known.",
    )
    confirmed = LineField(
        label="Features seen",
        most=200,
        required=False,
        help_text="Wanted where a look-alike is dangerous: what told them apart.",
    )
    over_cap = LineField(
        label="Why more than the fair share", most=200, required=False, help_text="Only if asked."
    )
    note = LineField(label="Note", most=200, required=False)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        names = []
        for number in range(1, TUBS + 1):
            for part, label in (("gross", "with the pick"), ("tare", "empty")):
                box = QuantityField(
                    label=f"Tub {number} {label}",
                    base=Base.MG,
                    required=part == "gross" and number == 1,
                    zero_ok=part == "tare",
                )
                box.measure(Base.MG, preference=self.preference, default_unit="g")
                box.help_text = "A bare number is grams." if number == 1 else ""
                self.fields[f"{part}_{number}"] = box
                names.append(f"{part}_{number}")
        self.order_fields(["plant", "patch", "on", "time", *names, "confirmed", "over_cap", "note"])

    def clean(self):
        found = super().clean()
        if found.get("time") is None and found.get("on") == timezone.localdate():
            found["time"] = timezone.localtime().time().replace(second=0, microsecond=0)
        for number in range(1, TUBS + 1):
            if found.get(f"tare_{number}") and not found.get(f"gross_{number}"):
                self.add_error(f"gross_{number}", "Say what it weighs with the pick in it.")
        return found

    def weighings(self) -> list[tuple[int, int]]:
        found = self.cleaned_data
        return [
            (found[f"gross_{number}"], found.get(f"tare_{number}") or 0)
            for number in range(1, TUBS + 1)
            if found.get(f"gross_{number}")
        ]


class SortForm(HouseForm):
    left = QuantityField(label="Left after sorting", base=Base.MG)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["left"].measure(Base.MG, preference=self.preference, default_unit="g")


class GiveForm(HouseForm):
    item = forms.ModelChoiceField(
        Item.objects.none(), label="Put by as", empty_label="choose an item"
    )
    amount = QuantityField(label="How much", base=Base.MG, zero_ok=False)
    place = PlaceField(label="Where it is kept")
    meant_for = LineField(label="Meant for", most=80, required=False, help_text="Wine, cordial.")

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["item"].queryset = Item.objects.filter(
            kind__in=("foraged", "ingredient"), base=Base.MG, archived=False
        )
        self.fields["amount"].measure(Base.MG, preference=self.preference, default_unit="g")
