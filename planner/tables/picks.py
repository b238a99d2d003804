import django_tables2 as tables

from inventory.table_parts import DayColumn, HouseTable, LinkColumn, QuantityColumn
from planner.models import Patch, Pick


class PatchTable(HouseTable):
    known = {"cap": "typed"}

    name = LinkColumn()
    plants = tables.ManyToManyColumn(verbose_name="What grows there", orderable=False)
    leave = tables.Column()
    cap = QuantityColumn(item=None, base="mg", verbose_name="Fair share", default="none set")

    class Meta(HouseTable.Meta):
        model = Patch
        fields = ("name", "plants", "leave", "cap")
        empty_text = "No patches yet. Add the first place where you pick."


class PickTable(HouseTable):
    known = {"day": "typed", "net": "weighed", "sorted_out": "weighed"}

    mark = LinkColumn(attrs={"td": {"class": "mark"}})
    plant = tables.Column()
    day = DayColumn()
    net = QuantityColumn(item=None, base="mg", verbose_name="Net")
    sorted_out = QuantityColumn(
        item=None, base="mg", verbose_name="After sorting", default="not sorted"
    )
    by = tables.Column(verbose_name="Who")

    class Meta(HouseTable.Meta):
        model = Pick
        fields = ("mark", "plant", "day", "net", "sorted_out", "by")
        empty_text = "Nothing has been picked yet."


class PatchPickTable(PickTable):
    patch = tables.Column(default="no patch named")

    class Meta(PickTable.Meta):
        fields = ("mark", "plant", "patch", "day", "net", "sorted_out", "by")
