"""A recipe by name, and one version of it: rows of steps and rows of what goes in."""

from django import forms

from inventory.fields import LineField, NumberField, TextField
from inventory.forms.amounts import read_amount
from inventory.forms.base import EditForm, HouseForm
from inventory.models import Item
from inventory.models.vessels import VesselKind
from inventory.refusals import Refusal
from planner import recipes
from planner.models import Basis
from planner.models.recipes import Product, Weekend

MOST_ROWS = 40
SPARE_ROWS = 3
DAYS = {"low": 0, "high": 3660}


class RecipeForm(HouseForm):
    name = LineField(label="Name", most=80)
    product = forms.ChoiceField(label="What it becomes", choices=Product.choices)
    notes = TextField(label="Notes", required=False)


class RecipeEditForm(EditForm):
    name = LineField(label="Name", most=80)
    product = forms.ChoiceField(label="What it becomes", choices=Product.choices)
    notes = TextField(label="Notes", required=False)


class ReasonForm(HouseForm):
    reason = LineField(
        label="What is different, and why", required=False, most=160,
        help_text="One line that will tell the versions apart in a year.",
    )  # fmt: skip


class Row(HouseForm):
    """A row of a formset; one in which nothing was typed is left out, whatever its lists say."""

    def has_changed(self) -> bool:
        typed = (
            self.data.get(self.add_prefix(name), "")
            for name, field in self.fields.items()
            if not isinstance(field, forms.ChoiceField) or name == "item"
        )
        return any(str(value).strip() for value in typed)


class StepRow(Row):
    title = LineField(label="Step", most=80)
    offset_days = NumberField(label="Days", **DAYS)
    after = NumberField(
        label="After step no.", required=False, low=1, high=MOST_ROWS, help_text="Empty: the start."
    )
    weekend = forms.ChoiceField(label="Falls on", choices=Weekend.choices)
    least_days = NumberField(label="At least, days", required=False, **DAYS)
    most_days = NumberField(label="At most, days", required=False, **DAYS)
    vessel_wanted = forms.ChoiceField(
        label="From here it stands in", required=False,
        choices=[("", "the same as before"), *VesselKind.choices],
    )  # fmt: skip
    when_still = forms.BooleanField(label="Only when still twice", required=False)
    times = NumberField(
        label="So many times", required=False, low=1, high=60, help_text="Empty: once."
    )
    every_days = NumberField(label="Days between them", required=False, low=1, high=90)
    notes = LineField(label="Notes", required=False, most=400)

    def draft(self, key: str) -> recipes.StepDraft:
        typed = dict(self.cleaned_data)
        after = typed.pop("after")
        for name in ("offset_days", "least_days", "most_days"):
            typed[name] = None if typed[name] is None else int(typed[name])
        for name in ("times", "every_days"):
            typed[name] = int(typed[name] or 1)
        return recipes.StepDraft(key=key, after=None if after is None else str(int(after)), **typed)


class LineRow(Row):
    item = forms.ChoiceField(label="What goes in")
    amount = LineField(label="How much", most=60, help_text="For example 300 g or 1.")
    basis = forms.ChoiceField(label="Reckoned", choices=Basis.choices)
    step = NumberField(label="At step no.", low=1, high=MOST_ROWS)
    is_fruit = forms.BooleanField(label="This is the fruit", required=False)
    note = LineField(label="Note", required=False, most=120)

    def __init__(self, *args, items: dict[str, Item], **kwargs):
        super().__init__(*args, **kwargs)
        self.items = items
        self.fields["item"].choices = self._choices

    def _choices(self):
        """Asked for only when the list is drawn or a choice is checked."""
        return [("", "choose an item"), *((key, item.name) for key, item in self.items.items())]

    def clean_item(self):
        return self.items[self.cleaned_data["item"]]

    def clean(self):
        typed = super().clean()
        item, amount = typed.get("item"), typed.get("amount")
        if item and amount:
            try:
                typed["amount"] = self._measured(item, amount)
            except Refusal as no:
                self.add_error("amount", no.message)
        return typed

    def _measured(self, item: Item, amount: str) -> int:
        return read_amount(amount, item, preference=self.preference)

    def draft(self) -> recipes.LineDraft:
        typed = dict(self.cleaned_data)
        typed["step"] = str(int(typed["step"]))
        return recipes.LineDraft(**typed)


STEPS = forms.formset_factory(StepRow, extra=0, max_num=MOST_ROWS, validate_max=True)
LINES = forms.formset_factory(LineRow, extra=0, max_num=MOST_ROWS, validate_max=True)
