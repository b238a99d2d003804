"""Which vessels a batch is to stand in, span by span?"""

from django import forms

from inventory.forms.base import HouseForm
from inventory.shown import quantity_text
from inventory.units import Base
from planner.vessel_choice import Choice


class VesselsForm(HouseForm):
    def __init__(self, *args, choices: list[Choice], **kwargs):
        super().__init__(*args, **kwargs)
        self.by_key = {}
        for choice in choices:
            key = f"span_{choice.span.first.pk}"
            self.by_key[key] = {str(offer.vessel.pk): offer.vessel for offer in choice.offers}
            self.fields[key] = forms.MultipleChoiceField(
                label=f"{choice.span.first.title}: {choice.span}",
                required=False,
                choices=[(str(offer.vessel.pk), self._words(offer)) for offer in choice.offers],
                widget=forms.CheckboxSelectMultiple,
                initial=[str(offer.vessel.pk) for offer in choice.offers if offer.is_taken],
            )

    def _words(self, offer) -> str:
        holds = quantity_text(offer.vessel.brimful, Base.UL, self.preference)
        return f"{offer.vessel}, {holds}: {offer.words}"

    def chosen(self) -> dict:
        return {
            int(key.removeprefix("span_")): [vessels[text] for text in self.cleaned_data[key]]
            for key, vessels in self.by_key.items()
        }
