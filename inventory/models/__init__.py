"""The tables of what is in the house and who works with it."""

from inventory.models.cellar import CellarLine, CellarLot, Fate
from inventory.models.glass import (
    BottleType,
    CageType,
    ClosureType,
    Finish,
    GlassLine,
    GlassState,
    Loan,
    UsedLot,
)
from inventory.models.items import Item, StoragePlace
from inventory.models.people import Activity, Household, Person, SentForm
from inventory.models.photos import Photo
from inventory.models.stock import Lot, Movement, Receipt, Requirement, Reservation
from inventory.models.substitutes import Substitute
from inventory.models.vessels import Vessel

__all__ = [
    "Activity",
    "BottleType",
    "CageType",
    "CellarLine",
    "CellarLot",
    "ClosureType",
    "Fate",
    "Finish",
    "GlassLine",
    "GlassState",
    "Household",
    "Item",
    "Loan",
    "Lot",
    "Movement",
    "Person",
    "Photo",
    "Receipt",
    "Requirement",
    "Reservation",
    "SentForm",
    "StoragePlace",
    "Substitute",
    "UsedLot",
    "Vessel",
]
