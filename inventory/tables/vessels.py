import django_tables2 as tables

from inventory.models import Vessel
from inventory.table_parts import ActionsColumn, HouseTable, QuantityColumn
from inventory.units import Base


class BrimfulColumn(QuantityColumn):
    def __init__(self, **kwargs):
        super().__init__(item=None, verbose_name="Holds to the brim", **kwargs)

    def kind_of(self, record):
        return Base.UL


class VesselTable(HouseTable):
    known = {"brimful": "brimful"}

    name = tables.Column()
    kind = tables.Column()
    brimful = BrimfulColumn()
    note = tables.Column(default="")
    archived = tables.Column(verbose_name="State")
    actions = ActionsColumn(("Change", "inventory:vessel-edit"))

    class Meta(HouseTable.Meta):
        model = Vessel
        fields = ("name", "kind", "brimful", "note", "archived", "actions")
        empty_text = "No vessels yet. Add the first bucket, jar or cask."

    def render_archived(self, value):
        return "put away" if value else "kept ready"
