"""Has a batch been kept from working again?"""

from django.db.models import F, Q, Sum, Value
from django.db.models.functions import Coalesce

from planner import progress
from planner.models import Batch, Step, StepNeed

# Of what the recipe asks; below this the yeast may live on. Common practice, no source.
ENOUGH = 0.9


def is_steadied(batch: Batch) -> bool:
    """A steadying step is done, and nothing that it needs was left out or given short.

    Two queries. The state of the batch says nothing here: it also goes on by later steps.
    """
    done = batch.steps.filter(state=Step.State.DONE).values_list("pk", "title")
    steps = [key for key, title in done if progress.steadies(title)]
    return bool(set(steps) - _given_short(steps))


def _given_short(steps: list[int]) -> set[int]:
    # What an undone step took was brought back, and its line stays with the need.
    kept = Q(requirement__movements__movement__isnull=True)
    taken = Coalesce(Sum("requirement__movements__quantity", filter=kept), Value(0))
    rows = StepNeed.objects.filter(step__in=steps).annotate(taken=taken)
    short = rows.filter(Q(taken__gt=-ENOUGH * F("requirement__quantity")))
    return set(short.values_list("step", flat=True))
