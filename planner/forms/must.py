"""What a must is reckoned for, what is wished of it, and what to make of it."""

from decimal import Decimal

from django import forms

from inventory.fields import NumberField, QuantityField
from inventory.forms.base import HouseForm
from inventory.models import Item, Lot
from inventory.refusals import Refusal
from inventory.units import Base
from planner import compositions, must_actions
from planner.fields import GravityField
from planner.models import Recipe, RecipeVersion
from planner.models.recipes import Closing, Sweet
from planner.must_actions import Changed
from planner.must_design import open_vessels
from planner.occupancies import FOAM_SHARE
from planner.recipes import LineDraft

GRAVITY_SIZE, TENTHS = 10_000, 10
BEARS = {"low": 0, "high": 25, "places": 1, "required": False}


class DesignForm(HouseForm):
    """The columns of a version that say what it was reckoned for."""

    volume = QuantityField(
        label="Reckoned for",
        base=Base.UL,
        zero_ok=False,
        required=False,
        help_text="Finished must, without the fruit, for example 18 L.",
    )
    gravity = GravityField(
        label="Start gravity wished", required=False, help_text="1.090, 90 points or 21.5 Brix."
    )
    sweet = forms.ChoiceField(
        label="Sweetness wished", choices=[("", "as it comes"), *Sweet.choices], required=False
    )
    closing = forms.ChoiceField(
        label="How it is kept", choices=[("", "as usual for it"), *Closing.choices], required=False
    )
    steadied = forms.BooleanField(
        label="Steadied before bottling",
        required=False,
        help_text="With sulphite and sorbate, so that no yeast works in the bottle.",
    )
    bears_low = NumberField(label="Yeast bears from, % vol", help_text="By its packet.", **BEARS)
    bears_high = NumberField(label="Yeast bears to, % vol", **BEARS)

    loss = NumberField(
        label="Stays behind on the way, %",
        low=0,
        high=50,
        places=1,
        required=False,
        help_text="In fruit, lees and hose, of what was begun; fewer bottles are wanted for it.",
    )

    @classmethod
    def initial_of(cls, version: RecipeVersion | None) -> dict:
        if version is None:
            return {}
        bears = {
            name: None if value is None else Decimal(value) / TENTHS
            for name, value in (
                ("bears_low", version.bears_low),
                ("bears_high", version.bears_high),
                ("loss", version.loss),
            )
        }
        gravity = version.gravity / GRAVITY_SIZE if version.gravity else None
        same = {name: getattr(version, name) for name in ("volume", "sweet", "closing", "steadied")}
        return same | bears | {"gravity": gravity}

    def columns(self) -> dict:
        """What was typed, as the columns keep it; what could not be read is left out."""
        typed = dict(self.cleaned_data)
        for name in ("bears_low", "bears_high", "loss"):
            typed[name] = None if typed.get(name) is None else int(typed[name] * TENTHS)
        gravity = typed.get("gravity")
        typed["gravity"] = None if gravity is None else round(gravity * GRAVITY_SIZE)
        return typed

    def drafted(self, recipe: Recipe) -> RecipeVersion:
        """A version of the recipe with what could be read of this; not kept."""
        self.is_valid()
        typed = {name: value for name, value in self.columns().items() if value is not None}
        return RecipeVersion(recipe=recipe, **typed)


class ScaleForm(HouseForm):
    """A kept recipe looked at in another size."""

    volume = QuantityField(
        label="Look at it for",
        base=Base.UL,
        zero_ok=False,
        required=False,
        help_text="For example 9 L.",
    )


class MakeForm(HouseForm):
    """Make it so heavy, so much, or of this pick; each is asked by its own button."""

    make_gravity = GravityField(label="Make it this gravity", required=False)
    make_by = forms.ChoiceField(label="by more or less", required=False)
    make_volume = QuantityField(
        label="Make it fit",
        base=Base.UL,
        zero_ok=False,
        required=False,
        help_text="For example 18 L.",
    )
    make_vessel = forms.ChoiceField(label="or fill", required=False)
    make_pick = forms.ChoiceField(label="Use all of", required=False)

    def __init__(self, *args, items: list[Item], **kwargs):
        """`items` are all that may stand in a must: rows may be typed after the page was drawn."""
        super().__init__(*args, **kwargs)
        names = [(str(item.pk), item.name) for item in items]
        self.fields["make_by"].choices = [*names, ("volume", "water, the same ingredients")]
        sugar = [key for key, name in names if "sugar" in name.casefold()]
        self.fields["make_by"].initial = (sugar or ["volume"])[0]
        self.vessels = {str(vessel.pk): vessel for vessel in open_vessels()}
        self.fields["make_vessel"].choices = [
            ("", "no vessel"),
            *((key, vessel.name) for key, vessel in self.vessels.items()),
        ]
        self.lots = {str(lot.pk): lot for lot in self._lots(items)}
        self.fields["make_pick"].choices = [
            ("", "choose a lot"),
            *((key, f"{lot.item}, {lot.mark}") for key, lot in self.lots.items()),
        ]

    @staticmethod
    def _lots(items: list[Item]):
        """What is on the shelf of the weighed things."""
        weighed = [item.pk for item in items if item.base == Base.MG]
        return Lot.objects.filter(item__in=weighed).in_stock().select_related("item")

    def changed(self, asked: str, lines: list[LineDraft], volume: int) -> Changed:
        """The recipe made as the button asks; raises Refusal where that cannot be."""
        box = {"gravity": "make_gravity", "volume": "make_volume"}.get(asked)
        if box in self.errors:
            raise Refusal(self.errors[box][0], field=box)
        own = compositions.by_item(line.item.pk for line in lines)
        make = {"gravity": self._gravity, "volume": self._volume, "vessel": self._vessel}
        return make.get(asked, self._pick)(lines, volume, own)

    def _gravity(self, lines, volume, own) -> Changed:
        gravity, by = self.cleaned_data.get("make_gravity"), self.cleaned_data.get("make_by")
        if not gravity:
            raise Refusal(
                "Say which gravity it should have, for example 1.090.", field="make_gravity"
            )
        wanted = {"volume_ul": volume, "gravity": gravity, "own": own}
        if by == "volume":
            return must_actions.make_volume_for(lines, **wanted)
        item = next((line.item for line in lines if str(line.item.pk) == by), None)
        if item is None:
            raise Refusal("Say by which ingredient it should change.", field="make_by")
        return must_actions.make_gravity(lines, by=item, **wanted)

    def _volume(self, lines, volume, own) -> Changed:
        wanted = self.cleaned_data.get("make_volume")
        if not wanted:
            raise Refusal("Say how much it should be, for example 18 L.", field="make_volume")
        return must_actions.fit(lines, volume_ul=volume, wanted_ul=wanted, own=own)

    def _vessel(self, lines, volume, own) -> Changed:
        vessel = self.vessels.get(self.cleaned_data.get("make_vessel") or "")
        if vessel is None:
            raise Refusal("Choose a vessel to fill.", field="make_vessel")
        return must_actions.fill(
            lines, volume_ul=volume, brimful_ul=vessel.brimful, foam_share=FOAM_SHARE, own=own
        )

    def _pick(self, lines, volume, own) -> Changed:
        lot = self.lots.get(self.cleaned_data.get("make_pick") or "")
        if lot is None:
            raise Refusal("Choose the lot that is to be used up.", field="make_pick")
        return must_actions.use_all(
            lines, volume_ul=volume, item=lot.item, mass_mg=lot.on_hand, own=own
        )
