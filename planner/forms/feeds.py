from django import forms

from inventory.fields import LineField, NumberField
from inventory.forms.base import HouseForm
from planner.feeds import MOST_ALARM_HOURS
from planner.models import FeedToken


class FeedForm(HouseForm):
    label = LineField(
        label="Which calendar is it for?", most=60, help_text="For example: my phone."
    )
    content = forms.ChoiceField(label="What it shows", choices=FeedToken.Content.choices)
    alarm_hours = NumberField(
        label="Alarm, hours before the day",
        required=False,
        low=0,
        high=MOST_ALARM_HOURS,
        help_text="Leave it empty for none. Some calendars ignore alarms of a subscription.",
    )

    def clean_alarm_hours(self):
        hours = self.cleaned_data["alarm_hours"]
        return None if hours is None else int(hours)
