import django_tables2 as tables

from inventory.table_parts import BadgeColumn, HouseTable, LinkColumn
from planner.models import Plant

HAZARD_TONES = {0: "plain", 1: "plain", 2: "warn", 3: "stop", 4: "stop"}


class PlantTable(HouseTable):
    common_name = LinkColumn(verbose_name="Plant")
    hazard_level = BadgeColumn(verbose_name="Hazard", tones=HAZARD_TONES)
    latin_name = tables.Column(verbose_name="Latin name", attrs={"td": {"class": "latin"}})

    class Meta(HouseTable.Meta):
        model = Plant
        fields = ("common_name", "latin_name", "part", "uses", "hazard_level")
        empty_text = "No plant answers to that. Clear the search to see the whole catalogue."
