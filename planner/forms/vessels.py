"""What is to be stood somewhere?"""

from inventory.fields import NumberField, QuantityField
from inventory.forms.base import HouseForm
from inventory.measures import US
from planner.fields import TemperatureField

VOLUME = {"base": "uL", "zero_ok": False, "required": False}


class FitForm(HouseForm):
    """By GET, so that it can be kept and sent on."""

    mash = QuantityField(
        label="Must with its fruit in it",
        help_text="For the open vessel, for example 20.4 L.",
        **VOLUME,
    )
    pressed = QuantityField(
        label="After pressing", help_text="For the closed ones, for example 18 L.", **VOLUME
    )
    loss = NumberField(
        label="Left behind as lees, %",
        low=0,
        high=50,
        places=1,
        required=False,
        help_text="At the racking, for example 6.",
    )


class WeighForm(HouseForm):
    """A vessel weighed empty and brimful of water."""

    empty = QuantityField(label="It weighs empty", base="mg", zero_ok=False)
    full = QuantityField(label="It weighs brimful of water", base="mg", zero_ok=False)
    water_c = TemperatureField(
        label="How warm the water is", initial="15 C", help_text="15 C or 59 F."
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["water_c"].fahrenheit = self.preference == US
