"""How many bottles, closures and cages will a batch want, when part of it stays behind on the way?"""

from inventory import requirements as store
from inventory.models import Person, Requirement
from inventory.models.items import Kind
from planner.models import Batch, RecipeVersion, StepNeed
from planner.requirements import Lines, quantities

GLASS_KINDS = (Kind.BOTTLE, Kind.CLOSURE, Kind.CAGE)
PER_MILLE = 1000


def wanted(version: RecipeVersion, volume_ul: int) -> Lines:
    """Each line of the version; what is for glass is reckoned for what is left at the bottling."""
    lines = list(version.lines.select_related("item", "step"))
    whole = quantities(lines, volume_ul)
    at_the_end = quantities(lines, left_of(version, volume_ul))
    return [
        end if end[0].item.kind in GLASS_KINDS else start
        for start, end in zip(whole, at_the_end, strict=True)
    ]


def left_of(version: RecipeVersion, volume_ul: int) -> int:
    """What the recipe expects to be left for the bottles."""
    return volume_ul * (PER_MILLE - (version.loss or 0)) // PER_MILLE


def follow(batch: Batch, volume_ul: int, *, by: Person | None) -> None:
    """Want as much glass as the volume there is will fill, never more than the plan foresaw.

    Part of a larger act; the caller is atomic. Four queries where no glass is wanted any more.
    """
    ties = StepNeed.objects.filter(
        step__batch=batch,
        requirement__state=Requirement.State.OPEN,
        requirement__item__kind__in=GLASS_KINDS,
    ).select_related("step", "requirement__item")
    ties = list(ties)
    if not ties or volume_ul < 1:
        return
    version = batch.recipe_version
    lines = list(version.lines.select_related("item", "step"))
    left = min(volume_ul, left_of(version, batch.volume))
    amounts = {(line.step_id, line.item_id): amount for line, amount in quantities(lines, left)}
    sizes = {}
    for tie in ties:
        amount = amounts.get((tie.step.template_id, tie.requirement.item_id))
        if amount and amount != tie.requirement.quantity:
            sizes[tie.requirement_id] = amount
    if sizes:
        store.resize(sizes=sizes, by=by)
