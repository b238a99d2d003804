"""What has this house seen and picked of each plant, and of the cues of this year?"""

import datetime as dt
from collections import defaultdict
from collections.abc import Iterable
from dataclasses import dataclass, field

from planner.models import Observation, Patch, Pick
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

    of_patch: dict[tuple[int, int | None], list[Sighting]] = field(default_factory=dict)
    cues: dict[str, list[dt.date]] = field(default_factory=dict)
    patches_of: dict[int, list[int | None]] = field(default_factory=dict)

    def of_plant(self, plant: int) -> list[Sighting]:
        """All of a plant, brought to the house from patches that open later or earlier."""
        return [
            sighting
            for patch in self.patches_of.get(plant, ())
            for sighting in self.of_patch[plant, patch]
        ]


def seen(plants: Iterable[int] | None = None) -> Sightings:
    """Everything noted of these plants, or of all; four queries."""
    observed = Observation.objects.filter(taken_back=False).order_by()
    picked = Pick.objects.filter(taken_back=False).order_by()
    if plants is not None:
        keys = list(plants)
        picked = picked.filter(plant__in=keys)
        # A cue seen on another plant tells of this one too.
        observed = observed.filter(plant__in=keys) | observed.filter(stage=Stage.CUE)
    of_patch: dict[tuple[int, int | None], list[Sighting]] = defaultdict(list)
    cues: dict[str, list[dt.date]] = defaultdict(list)
    later = dict(Patch.objects.values_list("pk", "later_days").order_by())
    columns = ("plant", "patch", "day", "stage", "looked_before")
    for plant, patch, day, stage, looked in observed.values_list(*columns):
        sighting = Sighting(day, STAGES[stage], looked, later.get(patch, 0))
        of_patch[plant, patch].append(sighting)
    for plant, patch, day in picked.values_list("plant", "patch", "day"):
        of_patch[plant, patch].append(Sighting(day, WindowState.OPEN, False, later.get(patch, 0)))
    for cue, day in observed.filter(stage=Stage.CUE).values_list("plant__cue", "day"):
        cues[cue].append(day)
    patches_of: dict[int, list[int | None]] = defaultdict(list)
    for plant, patch in of_patch:
        patches_of[plant].append(patch)
    return Sightings(dict(of_patch), dict(cues), dict(patches_of))
