import django_tables2 as tables

from inventory.table_parts import HouseTable, LinkColumn
from planner.models import Recipe

NUMBER = {"td": {"class": "number"}, "th": {"class": "number"}}


class RecipeTable(HouseTable):
    known = {"version_count": "counted", "batch_count": "counted"}

    name = LinkColumn(verbose_name="Recipe")
    version_count = tables.Column(verbose_name="Versions", attrs=NUMBER)
    batch_count = tables.Column(verbose_name="Batches", attrs=NUMBER)

    class Meta(HouseTable.Meta):
        model = Recipe
        fields = ("name", "product", "version_count", "batch_count")
        empty_text = "No recipes yet. Write the first one, then plan a batch from it."
