from django import forms

from inventory import clock
from inventory.fields import DayField, LineField
from inventory.forms.base import HouseForm
from inventory.typed import date_text


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
    on = DayField(label="Done on", coming=False, required=False, help_text="Empty: today.")
    remark = LineField(label="Remark", required=False, most=400)
    without = forms.BooleanField(
        label="It was done without what is missing",
        required=False,
        help_text="Tick it only if something on the list was left out, and say why in the remark.",
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.initial.setdefault("on", date_text(clock.today()))

    def clean_on(self):
        return self.cleaned_data["on"] or clock.today()


class SkipStepForm(StepForm):
    reason = LineField(label="Why is it skipped?", most=400)
