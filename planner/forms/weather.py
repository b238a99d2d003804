"""A weather file that is brought, and the usual months."""

from django import forms

from inventory.fields import LineField, NumberField
from inventory.forms.base import HouseForm
from inventory.forms.files import WholeFile
from planner.fields import NumbersField
from planner.models.weather import ReadAt
from planner.phenology.normals import SOURCE, stations
from planner.weather_files import MOST_BYTES

HEIGHT = {"low": -400, "high": 5000, "required": False}
MONTHS = {"low": -60, "high": 60, "count": 12}


class WeatherForm(HouseForm):
    file = WholeFile(
        label="Weather file",
        most_bytes=MOST_BYTES,
        help_text=(
            "Daily lowest and highest temperatures: GHCN daily by station, ECA, or any table with "
            "headings such as date, tmin, tmax."
        ),
    )
    height_m = NumberField(
        label="Height of that station, m",
        help_text="Brings its figures to the height of the house. Empty: as they stand.",
        **HEIGHT,
    )
    read_at = forms.ChoiceField(label="How its days are counted", choices=ReadAt.choices)


class NormalsForm(HouseForm):
    """The usual months by a station of the table, a monthly file, or as they are typed."""

    station = forms.ChoiceField(
        label="A station of the table",
        required=False,
        help_text=f"Monthly means 1991-2020, {SOURCE}.",
    )
    file = WholeFile(
        label="Or a monthly file",
        required=False,
        most_bytes=MOST_BYTES,
        help_text="Year, month, highest, lowest in columns, as national services print them.",
    )
    lows = NumbersField(
        label="Or the lowest of each month, January to December, °C",
        required=False,
        help_text="Twelve numbers with blanks between, for example 2.4 2.3 3.6 and so on.",
        **MONTHS,
    )
    highs = NumbersField(label="And the highest of each month, °C", required=False, **MONTHS)
    name = LineField(label="What to call them", most=120, required=False)
    height_m = NumberField(
        label="Height of that place, m", help_text="Known for stations of the table.", **HEIGHT
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        names = [(name, f"{name}, {row.height_m:.0f} m") for name, row in stations().items()]
        self.fields["station"].choices = [("", "none of these"), *names]

    def clean(self):
        found = super().clean()
        typed_months = bool(found.get("lows")) or bool(found.get("highs"))
        ways = [bool(found.get("station")), bool(found.get("file")), typed_months]
        if not self.errors and sum(ways) != 1:
            raise forms.ValidationError(
                "Choose one of the three ways: a station, a file, or typed."
            )
        if typed_months and not (found.get("lows") and found.get("highs")) and not self.errors:
            self.add_error("highs" if found.get("lows") else "lows", "Both rows are needed.")
        return found
