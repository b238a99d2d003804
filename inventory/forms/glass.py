"""What is typed about bottles, closures and cages: what they are, and what happens to them?"""

from django import forms

from inventory.fields import DayField, LineField, NumberField, QuantityField
from inventory.forms.amounts import OnField, PlaceField
from inventory.forms.base import EditForm, HouseForm
from inventory.models import Finish, GlassState, Item
from inventory.models.glass import MOST_MBAR
from inventory.units import Base

MBAR = 1000


class RatingForm(HouseForm):
    """A rated gauge pressure, typed in bar and kept in thousandths, with its source."""

    rated_mbar = NumberField(
        label="Rated gauge pressure, in bar",
        low=0,
        high=MOST_MBAR // MBAR,
        places=3,
        three_places_ok=True,
        required=False,
        help_text="Over the air's own pressure, for example 6. Empty: not known, and then nothing with fizz goes in.",
    )
    rating_source = LineField(
        label="Where that figure is from",
        most=160,
        required=False,
        help_text="The maker's sheet, the glass itself, the seller's word.",
    )

    def values(self) -> dict:
        values = super().values()
        bar = values["rated_mbar"]
        return values | {"rated_mbar": int(bar * MBAR) if bar else None}


class BottleTypeForm(RatingForm):
    nominal = QuantityField(label="Nominal volume", base=Base.UL, zero_ok=False)
    brimful = QuantityField(
        label="Brimful volume",
        base=Base.UL,
        zero_ok=False,
        required=False,
        help_text="To the very edge: weigh it empty and full of water, a gram is a millilitre. Empty: not known.",
    )
    finish = forms.ChoiceField(label="Mouth", choices=Finish.choices, widget=forms.RadioSelect)
    weight_g = NumberField(
        label="Weight of the empty bottle, in grams", low=1, high=20_000, required=False
    )
    colour = LineField(label="Colour", most=40, required=False)

    field_order = ("nominal", "brimful", "finish", "rated_mbar", "rating_source")


class ClosureTypeForm(RatingForm):
    fits = forms.MultipleChoiceField(
        label="Fits these mouths", choices=Finish.choices, widget=forms.CheckboxSelectMultiple
    )
    needs_cage = forms.BooleanField(label="Needs a cage over it", required=False)
    tool = LineField(
        label="Tool needed", most=80, required=False, help_text="For example a hand corker."
    )
    uses = NumberField(label="How often it may be used", low=1, high=1000, initial=1)

    field_order = ("fits", "needs_cage", "tool", "rated_mbar", "rating_source")


class CageTypeForm(HouseForm):
    uses = NumberField(label="How often it may be used", low=1, high=1000, initial=1)


def _in_bar(instance) -> dict:
    mbar = instance.rated_mbar
    return {"rated_mbar": None if mbar is None else mbar / MBAR}


class EditBottleTypeForm(EditForm, BottleTypeForm):
    @classmethod
    def initial_of(cls, instance):
        return super().initial_of(instance) | _in_bar(instance)


class EditClosureTypeForm(EditForm, ClosureTypeForm):
    @classmethod
    def initial_of(cls, instance):
        return super().initial_of(instance) | _in_bar(instance)


class EditCageTypeForm(EditForm, CageTypeForm):
    pass


class BottleRowForm(BottleTypeForm):
    """A kind of bottle as a row of a table: its name, what it is, and how many there are."""

    name = LineField(label="Bottle", most=80)
    clean = NumberField(label="Clean", low=0, high=100_000, required=False)
    dirty = NumberField(label="Dirty", low=0, high=100_000, required=False)
    place = PlaceField(label="Place", required=False)

    def values(self) -> dict:
        found = super().values()
        return found | {"clean": found["clean"] or 0, "dirty": found["dirty"] or 0}


class HowManyForm(HouseForm):
    count = NumberField(label="How many", low=1, high=100_000)
    on = OnField(label="On")


WAYS = {
    "wash": ("washed, and clean now", GlassState.DIRTY, "clean"),
    "soil": ("found dirty on the shelf", "clean", GlassState.DIRTY),
    "bring": ("brought in dirty", "", GlassState.DIRTY),
    "bring_full": ("brought in filled", "", GlassState.FILLED),
    "empty": ("emptied", GlassState.FILLED, GlassState.DIRTY),
    "crack_clean": ("cracked, of the clean ones", "clean", GlassState.CRACKED),
    "crack_dirty": ("cracked, of the dirty ones", GlassState.DIRTY, GlassState.CRACKED),
    "crack_full": ("cracked, of the filled ones", GlassState.FILLED, GlassState.CRACKED),
    "let_go": ("let go, of the dirty ones", GlassState.DIRTY, ""),
    "throw": ("cracked ones thrown out", GlassState.CRACKED, ""),
}


class MoveGlassForm(HowManyForm):
    way = forms.ChoiceField(
        label="What happened", choices=[(key, words) for key, (words, *_) in WAYS.items()]
    )
    place = PlaceField(label="Where the clean ones go", required=False)
    reason = LineField(label="Remark", most=200, required=False)

    field_order = ("way", "count", "on", "place", "reason")

    def values(self) -> dict:
        values = super().values()
        _, source, target = WAYS[values.pop("way")]
        return values | {"source": source, "target": target}


class WashForm(HouseForm):
    """Every kind of bottle of which some are dirty, with how many were washed of it."""

    on = OnField(label="On")
    place = PlaceField(label="Where the clean ones go", required=False)

    def __init__(self, *args, dirty: list[tuple[Item, int]], **kwargs):
        super().__init__(*args, **kwargs)
        self.items = [item for item, _ in dirty]
        for item, count in dirty:
            self.fields[f"count_{item.pk}"] = NumberField(
                label=f"{item}, {count} dirty", low=0, high=count, initial=count, required=False
            )
        self.order_fields([*(f"count_{item.pk}" for item in self.items), "on", "place"])

    def counts(self) -> dict[int, int]:
        found = self.cleaned_data
        return {item.pk: int(found[f"count_{item.pk}"] or 0) for item in self.items}


class LendForm(HowManyForm):
    to = LineField(label="To whom", most=80)
    due = DayField(label="Wanted back on", required=False)
    full = forms.BooleanField(
        label="They are filled", required=False, help_text="A gift whose glass should come back."
    )

    field_order = ("count", "to", "on", "due", "full")


class GiveBackForm(HowManyForm):
    state = forms.ChoiceField(
        label="How they came back",
        choices=[("dirty", "dirty"), ("clean", "clean"), ("cracked", "cracked")],
        widget=forms.RadioSelect,
        initial="dirty",
    )
    place = PlaceField(label="Where the clean ones go", required=False)

    field_order = ("count", "state", "on", "place")


class DrinkingForm(forms.Form):
    """How many bottles a month are drunk, for the look ahead."""

    drunk = NumberField(label="Bottles drunk a month", low=0, high=500, required=False)

    def rate(self) -> int:
        return int(self.cleaned_data.get("drunk") or 0) if self.is_valid() else 0
