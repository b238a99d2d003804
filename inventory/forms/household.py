import zoneinfo
from decimal import Decimal

from django import forms

from inventory.fields import LineField, NumberField
from inventory.forms.base import EditForm
from inventory.forms.filters import ListFilter
from inventory.models import Person
from inventory.models.people import Units


class HouseholdForm(EditForm):
    name = LineField(label="What the house is called", most=80)
    time_zone = LineField(
        label="Time zone",
        most=64,
        help_text="It decides which day today is. For example Europe/London.",
    )
    country = LineField(label="Country", most=2, help_text="Two letters, for example GB.")
    latitude = NumberField(
        label="Latitude in degrees",
        low=-90,
        high=90,
        places=3,
        three_places_ok=True,
        help_text="North is positive, for example 54.4. Harvest windows are shifted by it.",
    )
    height_m = NumberField(label="Height above the sea in metres", low=-450, high=5000)
    units = forms.ChoiceField(
        label="Units for new people", choices=Units.choices, help_text="Each may choose their own."
    )
    drunk_a_month = NumberField(
        label="Bottles drunk a month",
        low=0,
        high=500,
        required=False,
        help_text="How soon glass comes back, and how long the cellar lasts. 0: nothing is reckoned.",
    )
    living_page = forms.BooleanField(
        label="Show the living page",
        required=False,
        help_text="Every part of the pages in every state, for whoever looks after them.",
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["time_zone"].widget.attrs["list"] = "time-zones"

    @classmethod
    def initial_of(cls, instance):
        latitude = Decimal(instance.latitude_thousandths) / 1000
        return super().initial_of(instance) | {"latitude": latitude}

    def values(self):
        values = super().values()
        drunk = values.pop("drunk_a_month") or 0
        latitude = int(values.pop("latitude") * 1000)
        return values | {"latitude_thousandths": latitude, "drunk_a_month": drunk}

    @staticmethod
    def time_zones() -> list[str]:
        return sorted(zoneinfo.available_timezones())


class ActivityFilter(ListFilter):
    searched = ("summary",)

    person = forms.ModelChoiceField(
        label="By whom", queryset=Person.objects.order_by("username"), required=False,
        empty_label="anybody",
    )  # fmt: skip

    def narrow(self, rows):
        rows = super().narrow(rows)
        person = self.cleaned_data.get("person")
        return rows.filter(by=person) if person else rows
