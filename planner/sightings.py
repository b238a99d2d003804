"""What has this house seen and picked of each plant, and of the cues of this year?"""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field

from planner.models import Observation, Patch, Pick, Plant
from planner.models.picks import Stage
from planner.phenology import CUE, Sighting, WindowState

STAGES = {
    Stage.CUE: CUE,
    Stage.NOT_YET: WindowState.NOT_YET,
    Stage.SHOWING: WindowState.SHOWING,
    Stage.OPEN: WindowState.OPEN,
    Stage.GOING_OVER: WindowState.GOING_OVER,
    Stage.OVER: WindowState.OVER,
}


@dataclass(frozen=True)
class Sightings:
    """By plant and patch (none where no patch was named) what was seen, and when which cue was."""

    of_plant: dict[int, dict[int | None, list[Sighting]]] = field(default_factory=dict)
    cues: dict[str, list[dt.date]] = field(default_factory=dict)
    patches: dict[int, Patch] = field(default_factory=dict)

    def at(self, plant: Plant, patch: Patch) -> list[Sighting]:
        return self.of_plant.get(plant.pk, {}).get(patch.pk, [])

    def by_patch(self, plant: Plant) -> list[tuple[Patch | None, list[Sighting]]]:
        """All that was seen of a plant, patch by patch."""
        return [
            (self.patches.get(key), seen) for key, seen in self.of_plant.get(plant.pk, {}).items()
        ]


def seen(plants: Iterable[int] | None = None) -> Sightings:
    """Everything noted of these plants, or of all; four queries."""
    observed = Observation.objects.filter(taken_back=False).order_by()
    cued = observed.filter(stage=Stage.CUE)
    picked = Pick.objects.filter(taken_back=False).order_by()
    if plants is not None:
        keys = list(plants)
        observed, picked = observed.filter(plant__in=keys), picked.filter(plant__in=keys)
    of_plant: dict = defaultdict(lambda: defaultdict(list))
    columns = ("plant", "patch", "day", "stage", "looked_before")
    for plant, patch, day, stage, looked in observed.values_list(*columns):
        of_plant[plant][patch].append(Sighting(day, STAGES[stage], looked))
    for plant, patch, day in picked.values_list("plant", "patch", "day"):
        of_plant[plant][patch].append(Sighting(day, WindowState.OPEN))
    # A cue seen on another plant tells of this one too.
    cues: dict[str, list[dt.date]] = defaultdict(list)
    for cue, day in cued.exclude(plant__cue="").values_list("plant__cue", "day"):
        cues[cue].append(day)
    return Sightings(of_plant, dict(cues), Patch.objects.in_bulk())
