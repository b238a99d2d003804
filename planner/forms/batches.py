from django import forms

from inventory.fields import DayField, LineField, QuantityField, TextField
from inventory.forms.base import EditForm, HouseForm
from planner.models import RecipeVersion
from planner.occupancies import AUTO

VESSELS = (
    (AUTO, "book vessels that are free and large enough"),
    ("", "book none for now"),
)


class PlanForm(HouseForm):
    recipe_version = forms.ModelChoiceField(
        RecipeVersion.objects.filter(recipe__archived=False)
        .select_related("recipe")
        .order_by("recipe__name", "-number"),
        label="Recipe",
        empty_label="Choose a recipe",
    )
    volume = QuantityField(label="Volume of must", base="uL", zero_ok=False)
    start = DayField(label="First day", help_text="For example 12 Sep, sat or 2026-09-12.")
    name = LineField(
        label="Name",
        required=False,
        most=80,
        help_text="Leave it empty for the recipe's name and the year.",
    )
    vessels = forms.ChoiceField(label="Vessels", choices=VESSELS, initial=AUTO, required=False)
    left_out = LineField(
        label="Why a step that makes a plant harmless is left out",
        required=False,
        most=200,
        help_text="Only if asked.",
    )


class BatchForm(EditForm):
    name = LineField(label="Name", most=80)
    notes = TextField(label="Notes", required=False)
