from django import forms

from inventory import clock
from inventory.fields import DayField, LineField, NumberField, QuantityField, TextField
from inventory.forms.base import HouseForm
from inventory.forms.files import PhotoField
from inventory.measures import US
from inventory.models.items import Kind
from inventory.typed import date_text
from inventory.units import Base
from planner.fields import GravityField, TemperatureField
from planner.progress import fills_glass
from planner.told import Told

TOLD = ("volume", "gravity", "sample_c", "must_c", "confirmed", "reason")


class StepForm(HouseForm):
    def __init__(self, *args, step, **kwargs):
        self.step = step
        super().__init__(*args, **kwargs)


class MoveStepForm(StepForm):
    day = DayField(label="New day", help_text="For example 21 Sep, sat or +3.")
    pin = forms.BooleanField(label="Keep it on that day when earlier steps move", required=False)

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.initial.setdefault("day", self.step.day)
        self.initial.setdefault("pin", self.step.pinned)


class CompleteStepForm(StepForm):
    """What was done; asks for what the step lets one read off, and for reasons only where wanted."""

    on = DayField(label="Done on", coming=False, required=False, help_text="Empty: today.")
    must_c = TemperatureField(
        label="How warm the must is",
        required=False,
        help_text="Yeast goes in only within what it bears, for example 22 C.",
    )
    volume = QuantityField(
        label="How much there is now",
        base=Base.UL,
        required=False,
        help_text="As measured, for example 18 L; empty: not measured.",
    )
    gravity = GravityField(
        label="Gravity",
        required=False,
        help_text="1.085, 1085, 85 points or 20 Brix. Read the start before the yeast goes in.",
    )
    sample_c = TemperatureField(
        label="Temperature of the sample", required=False, help_text="Empty: not known."
    )
    confirmed = LineField(
        label="Features seen",
        required=False,
        most=200,
        help_text="What told the plant from its look-alikes.",
    )
    remark = LineField(label="Remark", required=False, most=400)
    photo = PhotoField(label="Picture")
    reason = LineField(
        label="Why it goes on all the same",
        required=False,
        most=400,
        help_text="Wanted where the house says to look again; your name stands beside it.",
    )
    without = forms.BooleanField(
        label="It was done without what is missing",
        required=False,
        help_text="Tick it only if something on the list was left out, and say why in the remark.",
    )

    def __init__(self, *args, kinds=(), verdicts=(), **kwargs):
        super().__init__(*args, **kwargs)
        self.initial.setdefault("on", date_text(clock.today()))
        gates = {verdict.gate for verdict in verdicts}
        doubted = any(verdict.level == "look again" for verdict in verdicts)
        wanted = {
            "must_c": Kind.YEAST in kinds,
            "confirmed": "identity" in gates,
            "reason": doubted or self.is_bound,
        }
        wine = not fills_glass(self.step.title, kinds)
        wanted |= dict.fromkeys(("volume", "gravity", "sample_c"), wine)
        for name, is_wanted in wanted.items():
            if not is_wanted:
                del self.fields[name]
        for name in {"must_c", "sample_c"} & set(self.fields):
            self.fields[name].fahrenheit = self.preference == US

    def clean_on(self):
        return self.cleaned_data["on"] or clock.today()

    def values(self):
        """The arguments of `complete_step`."""
        found = super().values()
        told = {name: found.pop(name) for name in TOLD if name in found}
        return found | {"told": Told(**told)}


class SkipStepForm(StepForm):
    reason = LineField(label="Why is it skipped?", most=400)


class AddStepForm(HouseForm):
    title = LineField(label="What is to be done", most=70, help_text="Stir the cap, for example.")
    day = DayField(label="On", help_text="Today, sat, +3 or 21 Sep.")
    times = NumberField(label="So many times", low=1, high=60, initial=1)
    every = NumberField(label="So many days apart", low=1, high=90, initial=1)
    notes = TextField(label="Notes", required=False)
