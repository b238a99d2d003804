import django_tables2 as tables

from inventory.models import StoragePlace
from inventory.table_parts import ActionsColumn, HouseTable


class TemperatureColumn(tables.Column):
    def __init__(self, **kwargs):
        numeric = {"class": "number"}
        super().__init__(default="not known", attrs={"td": numeric, "th": numeric}, **kwargs)

    def render(self, value):
        return f"{value} °C"

    def value(self, value):
        return value


class PlaceTable(HouseTable):
    known = {"coolest_c": "warmth", "ordinary_c": "warmth", "warmest_c": "warmth"}

    name = tables.Column()
    coolest_c = TemperatureColumn(verbose_name="Coolest")
    ordinary_c = TemperatureColumn(verbose_name="Ordinarily")
    warmest_c = TemperatureColumn(verbose_name="Warmest")
    dark = tables.Column(verbose_name="Light")
    actions = ActionsColumn(("Change", "inventory:place-edit"))

    class Meta(HouseTable.Meta):
        model = StoragePlace
        fields = ("name", "coolest_c", "ordinary_c", "warmest_c", "dark", "actions")
        empty_text = "No storage places yet. Add the first shelf, fridge or cellar."

    def render_dark(self, value):
        return "dark" if value else "light"
