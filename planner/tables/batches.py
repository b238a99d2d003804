import django_tables2 as tables

from inventory.table_parts import (
    BadgeColumn,
    DayColumn,
    DueColumn,
    HouseTable,
    LinkColumn,
    QuantityColumn,
)
from planner.models import Batch

STATE_TONES = {
    "thought_of": "plain",
    "set_down": "wait",
    "must_made": "good",
    "working": "good",
    "dropped": "plain",
    "poured_away": "plain",
}


class BatchTable(HouseTable):
    known = {"volume": "must", "start": "must", "next_day": "step day"}

    name = LinkColumn(verbose_name="Batch")
    recipe = tables.Column(accessor="recipe_version__recipe__name", verbose_name="Recipe")
    state = BadgeColumn(tones=STATE_TONES)
    volume = QuantityColumn(base="uL")
    start = DayColumn()
    next_title = tables.Column(verbose_name="Next step", default="none")
    next_day = DueColumn(verbose_name="On", default="")

    class Meta(HouseTable.Meta):
        model = Batch
        fields = ("name", "recipe", "state", "volume", "start", "next_title", "next_day")
        order_by = ("start", "name")
        empty_text = "No batches yet. Plan the first one from a recipe."
