"""What the house itself says of a plant."""

from django import forms

from inventory.fields import DayField, LineField, NumberField, TextField
from inventory.forms.base import EditForm, HouseForm
from inventory.models import Item
from planner.models.plants import Hazard
from planner.phenology import common_day

FORAGED = ("foraged", "ingredient")


class SaidForm(EditForm):
    """What may be said of any plant, also one of the catalogue."""

    item = forms.ModelChoiceField(
        Item.objects.none(),
        label="Kept in the store as",
        required=False,
        empty_label="nothing yet",
        help_text="Then it stands on Today and in the year of what this house picks.",
    )
    lasts_days = NumberField(
        label="Open for so many days here",
        low=1,
        high=300,
        required=False,
        help_text="From the first good day to the last. Empty: as the catalogue has it.",
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["item"].queryset = Item.objects.filter(kind__in=FORAGED, archived=False)


class OwnPlantForm(HouseForm):
    """A plant that the catalogue lacks."""

    common_name = LineField(label="Name", most=80)
    latin_name = LineField(label="Latin name", most=120, required=False)
    part = LineField(
        label="Part picked", most=120, required=False, help_text="Fruit, flower, leaf."
    )
    first_day = DayField(label="Usually opens on", help_text="Day and month, for example 22 Jun.")
    peak_day = DayField(label="Best on", required=False)
    last_day = DayField(label="Usually over after")
    late_fruit = forms.BooleanField(label="A fruit of late summer or autumn", required=False)
    hazard_level = forms.TypedChoiceField(
        label="Hazard", choices=Hazard.choices, coerce=int, initial=Hazard.NOTE
    )
    hazard_text = TextField(label="What to beware of", most=1000, required=False)
    look_alikes = TextField(label="Look-alikes, and what parts them", most=1000, required=False)
    notes = TextField(label="Notes", most=1000, required=False)

    def values(self) -> dict:
        """Days as numbers of a common year; the best day falls in the middle where none is given."""
        found = super().values()
        for name in ("first_day", "peak_day", "last_day"):
            found[name] = None if found[name] is None else common_day(found[name])
        if found["peak_day"] is None:
            length = (found["last_day"] - found["first_day"]) % 365
            found["peak_day"] = (found["first_day"] + length // 2 - 1) % 365 + 1
        return found
