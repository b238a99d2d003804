"""On which day does each step of a batch fall?"""

from planner.schedule.rules import ScheduleRefusal, StepRule, Weekend, with_weekend
from planner.schedule.steps import (
    Dated,
    Room,
    backwards,
    lay_out,
    move,
    moved_keys,
    outside_room,
    room,
    set_weekend,
)

__all__ = [
    "Dated",
    "Room",
    "ScheduleRefusal",
    "StepRule",
    "Weekend",
    "backwards",
    "lay_out",
    "move",
    "moved_keys",
    "outside_room",
    "room",
    "set_weekend",
    "with_weekend",
]
