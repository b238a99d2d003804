"""Which batches are laid side by side, and among whom are bottles shared?"""

from django import forms

from inventory import typed
from inventory.fields import LineField, NumberField
from planner.models import Batch

MOST_PEOPLE = 40


class CompareForm(forms.Form):
    first = forms.ModelChoiceField(Batch.objects.none(), label="One", empty_label="choose a batch")
    second = forms.ModelChoiceField(
        Batch.objects.none(), label="and the other", empty_label="choose a batch"
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        rows = Batch.objects.select_related("recipe_version__recipe").order_by("-start", "name")
        for field in self.fields.values():
            field.queryset = rows


class SharesForm(forms.Form):
    bottles = NumberField(label="Bottles to share", low=0, high=100_000)
    who = LineField(
        label="Who brought how much",
        most=1000,
        help_text="Nan 42, Ned 27, Ivy 30: a name and a number each. Who worked too may count twice.",
    )

    def clean_who(self):
        found = {}
        for line in filter(None, (row.strip() for row in self.cleaned_data["who"].split(","))):
            name, _, text = line.rpartition(" ")
            try:
                part = float(typed.read_number(text, three_places_ok=True))
            except typed.Fault:
                part = 0.0
            if not name.strip() or not 0 < part <= 1_000_000:
                raise forms.ValidationError(f"“{line[:40]}” is no name and number, such as Nan 42.")
            found[name.strip()] = found.get(name.strip(), 0.0) + part
        if not 1 <= len(found) <= MOST_PEOPLE:
            raise forms.ValidationError(f"Name 1 to {MOST_PEOPLE} who share.")
        return found


class YearForm(forms.Form):
    year = NumberField(label="Year", low=1990, high=2199, required=False)
