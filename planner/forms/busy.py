"""Days on which nobody can go."""

from inventory.fields import DayField, LineField
from inventory.forms.base import HouseForm


class BusyForm(HouseForm):
    what = LineField(label="What it is", most=80, help_text="For example away.")
    first = DayField(label="From", help_text="For example 27 Jun.")
    last = DayField(label="Until", help_text="That day included.")
