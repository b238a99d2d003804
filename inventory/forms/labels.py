"""What is printed on which sheet?"""

from django import forms

from inventory.fields import LineField, TextField
from inventory.forms.amounts import WholeNumberField
from inventory.forms.base import HouseForm
from inventory.label_grid import GRIDS, Grid
from inventory.labels import MOST_LABELS


class LabelForm(HouseForm):
    """By GET, so that a sheet can be printed again."""

    name = LineField(label="Name", most=80)
    text = TextField(
        label="What it says", required=False, help_text="A line each; warnings stay below it."
    )
    grid = forms.ChoiceField(
        label="Sheet", choices=[(key, grid.words) for key, grid in GRIDS.items()], initial="a4-3-7"
    )
    first = WholeNumberField(
        label="First free place on the sheet",
        low=1,
        high=60,
        initial=1,
        help_text="Counted from the upper left, row by row: 1 on a new sheet.",
    )
    count = WholeNumberField(label="How many", low=1, high=MOST_LABELS)
    code = forms.BooleanField(
        label="With the code that leads to its page", required=False, initial=True
    )
    outlines = forms.BooleanField(label="Draw the edges, to try it on plain paper", required=False)

    @property
    def layout(self) -> Grid:
        return GRIDS[self.cleaned_data["grid"]]

    @property
    def lines(self) -> tuple[str, ...]:
        return tuple(
            line.strip() for line in self.cleaned_data["text"].splitlines() if line.strip()
        )
