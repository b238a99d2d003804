"""How much does a vessel hold, by its weight empty and brimful of water?"""

from django.utils.text import capfirst

from inventory import vessels
from inventory.models import Person, Vessel
from inventory.refusals import Refusal
from planner.chemistry.density import water_kg_per_m3

MG_PER_KG, UL_PER_L, L_PER_M3 = 1_000_000, 1_000_000, 1000


def brimful(*, empty: int, full: int, water_c: float) -> int:
    """Microlitres that it holds; weights in mg. Refuses a full one that weighs no more than the empty."""
    if full <= empty:
        raise Refusal("Full of water it weighs more than empty.", field="full")
    try:
        density = water_kg_per_m3(temperature_c=water_c) / L_PER_M3
    except ValueError as wrong:
        raise Refusal(f"{capfirst(str(wrong))}.", field="water_c") from None
    return round((full - empty) / MG_PER_KG / density * UL_PER_L)


def weigh(*, vessel: Vessel, empty: int, full: int, water_c: float, by: Person | None) -> Vessel:
    """Write down what a vessel holds by its weights; atomic, refuses what somebody changed meanwhile."""
    values = {"brimful": brimful(empty=empty, full=full, water_c=water_c)}
    return vessels.edit_vessel(vessel, version=vessel.version, values=values, by=by)
