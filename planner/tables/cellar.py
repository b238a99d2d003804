import django_tables2 as tables

from inventory.table_parts import BadgeColumn, DayColumn, DueColumn, HouseTable, LinkColumn
from planner.cellar_view import TONES


class CellarTable(HouseTable):
    known = {
        "left": "bottles left",
        "bottled": "typed",
        "ready": "bottle days",
        "drink_by": "bottle days",
    }

    name = LinkColumn(accessor="lot__name", verbose_name="What it is")
    bottle = tables.Column(accessor="lot__item", verbose_name="In")
    left = tables.Column(
        verbose_name="Bottles", attrs={"td": {"class": "number"}, "th": {"class": "number"}}
    )
    word = BadgeColumn(verbose_name="How it stands", tones=TONES)
    where = tables.Column(empty_values=(), verbose_name="Where", orderable=False)
    bottled = DayColumn(accessor="lot__bottled", verbose_name="Filled")
    ready = DayColumn(accessor="lot__ready", default="not said")
    drink_by = DueColumn(accessor="lot__drink_by", late="past it", soon_days=60, default="not said")

    class Meta(HouseTable.Meta):
        empty_text = "No bottle lies here yet. Bottle a batch, and find it here."

    def render_where(self, record):
        return ", ".join(f"{one.count} {one.place or 'no place noted'}" for one in record.lying)

    def value_where(self, record):
        return self.render_where(record)
