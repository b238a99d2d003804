"""What is typed about a reading or an addition?"""

import datetime as dt

from django import forms
from django.db.models import QuerySet
from django.utils import timezone

from inventory import clock, typed, units
from inventory.fields import LineField
from inventory.forms.amounts import OnField, read_amount
from inventory.forms.base import HouseForm
from inventory.measures import US
from inventory.models import Item, Lot
from inventory.models.items import Kind
from inventory.refusals import Refusal
from planner import additions
from planner.fields import ClockField, TemperatureField
from planner.models import Batch, Purpose, ReadingKind
from planner.models.composition import AcidBasis
from planner.progress import ENDED
from planner.readings import CLARITY
from planner.typed_readings import parse_gravity, parse_temperature

GOES_IN = (Kind.FORAGED, Kind.INGREDIENT, Kind.YEAST, Kind.ADDITIVE, Kind.CONSUMABLE)
NOON = dt.time(12)


def open_batches() -> QuerySet:
    return Batch.objects.exclude(state__in=ENDED)


class OfBatchForm(HouseForm):
    """A form about one batch, which is given by the address or chosen."""

    batch = forms.ModelChoiceField(
        Batch.objects.none(), label="Batch", empty_label="choose a batch"
    )
    on = OnField(label="On")
    note = LineField(label="Note", most=200, required=False)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["batch"].queryset = open_batches()


class ReadingForm(OfBatchForm):
    kind = forms.ChoiceField(label="What is read", choices=ReadingKind.choices)
    value = LineField(
        label="Reading",
        most=120,
        help_text="Gravity as 1.085, 1085, 85 points or 20 Brix; clarity as cloudy, hazy, clearing, "
        "clear or bright; taste in words.",
    )
    temperature = TemperatureField(
        label="Temperature of the sample",
        required=False,
        help_text="For a gravity; empty: not known, and nothing is corrected.",
    )
    reference = TemperatureField(
        label="The hydrometer is made for",
        required=False,
        initial="20 C",
        help_text="20 C, 15 C or 60 F.",
    )
    acid_as = forms.ChoiceField(
        label="Acid counted as",
        choices=[("", "no acid reading"), *AcidBasis.choices],
        required=False,
    )
    time = ClockField(label="At", required=False, help_text="14:30; empty: now, or noon.")

    field_order = (
        "batch", "kind", "value", "temperature", "reference", "acid_as", "on", "time", "note",
    )  # fmt: skip

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        for name in ("temperature", "reference"):
            self.fields[name].fahrenheit = self.preference == US

    def clean(self):
        found = super().clean()
        kind, text = found.get("kind"), found.get("value")
        if kind and text:
            try:
                found["value"] = self._read(kind, text)
                if kind == ReadingKind.TASTE:
                    found["note"] = "; ".join(filter(None, [text.strip(), found.get("note")]))
            except Refusal as no:
                self.add_error("value", no.message)
        if kind == ReadingKind.ACID and not found.get("acid_as"):
            self.add_error("acid_as", "Say as which acid it is counted.")
        return found

    def _read(self, kind: str, text: str) -> float:
        if kind == ReadingKind.GRAVITY:
            return parse_gravity(text, name="Reading")
        if kind == ReadingKind.TASTE:
            return 0.0
        if kind == ReadingKind.CLARITY:
            return self._clarity(text)
        if kind == ReadingKind.TEMPERATURE:
            return parse_temperature(text, name="Reading", fahrenheit=self.preference == US)
        try:
            return float(typed.read_number(text, three_places_ok=True))
        except typed.Fault as fault:
            raise typed.refusal("Reading", text, fault) from None

    def _clarity(self, text: str) -> float:
        word = text.strip().casefold()
        if word not in CLARITY:
            raise Refusal(f"Clarity is one of {', '.join(CLARITY)}.", field="value")
        return float(CLARITY.index(word))

    def reading(self) -> dict:
        """The arguments of `readings.record`."""
        found = self.cleaned_data
        of_gravity = found["kind"] == ReadingKind.GRAVITY
        return {
            "batch": found["batch"],
            "kind": found["kind"],
            "value": found["value"],
            "at": self._moment(found["on"], found["time"]),
            "temperature_c": found["temperature"] if of_gravity else None,
            "reference_c": found["reference"] if of_gravity else None,
            "acid_as": found["acid_as"] if found["kind"] == ReadingKind.ACID else "",
            "note": found["note"],
        }

    def _moment(self, day: dt.date, time: dt.time | None) -> dt.datetime:
        zone = timezone.get_current_timezone()
        if time is None:
            time = timezone.localtime().time() if day == clock.today() else NOON
        return dt.datetime.combine(day, time, tzinfo=zone)


class StrikeForm(HouseForm):
    reason = LineField(label="What is wrong with it", most=200)


class AdditionForm(OfBatchForm):
    purpose = forms.ChoiceField(label="What for", choices=Purpose.choices)
    lot = forms.ModelChoiceField(
        Lot.objects.none(), label="Out of", required=False, empty_label="no lot: water from the tap"
    )
    amount = LineField(
        label="How much", most=40, help_text="With its unit, for example 8 g or 2 L."
    )
    rule = LineField(label="By which rule", most=120, required=False)
    source = LineField(label="Where the rule is from", most=200, required=False)
    reason = LineField(
        label="Why it goes in all the same",
        most=120,
        required=False,
        help_text="Only if the house says to look again.",
    )

    field_order = ("batch", "purpose", "lot", "amount", "on", "rule", "source", "note", "reason")

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        lots = Lot.objects.filter(item__kind__in=GOES_IN).in_stock().select_related("item")
        self.fields["lot"].queryset = lots
        self.fields["lot"].label_from_instance = lambda lot: f"{lot.item}, {lot.mark}"

    def clean(self):
        found = super().clean()
        text, purpose = found.get("amount"), found.get("purpose", "")
        if text:
            try:
                additions.refuse_spoons(text, purpose)
                found["amount"] = self._amount(text, found.get("lot"))
            except Refusal as no:
                self.add_error("amount", no.message)
        return found

    def _amount(self, text: str, lot: Lot | None) -> int:
        item = lot.item if lot else Item(base=units.Base.UL)
        return read_amount(text, item, preference=self.preference)
