"""What is to be stood somewhere?"""

from inventory.fields import NumberField, QuantityField
from inventory.forms.base import HouseForm

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
