"""What the lists of plants, recipes and batches may be narrowed by."""

from django import forms

from inventory.fields import DayField
from inventory.forms.filters import ListFilter
from planner.models import Batch
from planner.models.plants import Hazard


class PlantFilter(ListFilter):
    searched = ("common_name", "latin_name", "part", "uses")

    hazard = forms.ChoiceField(
        required=False, choices=[("", "any hazard"), *[(str(h.value), h.label) for h in Hazard]]
    )

    def narrow(self, rows):
        rows = super().narrow(rows)
        hazard = self.cleaned_data.get("hazard")
        return rows.filter(hazard_level=hazard) if hazard else rows


class SeasonFilter(forms.Form):
    """Whose ribbons are drawn: the plants the store keeps an item for, or every plant."""

    all = forms.BooleanField(label="every plant", required=False)


class SheetFilter(forms.Form):
    """The day of the day sheet."""

    day = DayField(label="Day", required=False, help_text="Empty: today. Or 12 Sep, sat, +3.")


class RecipeFilter(ListFilter):
    searched = ("name", "notes")


class BatchFilter(ListFilter):
    searched = ("name", "recipe_version__recipe__name", "notes")

    state = forms.ChoiceField(
        required=False, choices=[("", "all but dropped ones"), *Batch.State.choices]
    )

    def narrow(self, rows):
        rows = super().narrow(rows)
        state = self.cleaned_data.get("state")
        return rows.filter(state=state) if state else rows.exclude(state=Batch.State.DROPPED)
