import django_tables2 as tables
from django.utils.html import format_html

from inventory import shown
from inventory.table_parts import DayColumn, HouseTable, QuantityColumn


class VolumeTable(HouseTable):
    known = {"day": "typed", "change": "volume line", "left": "volume ledger"}

    day = DayColumn(accessor="row__day")
    what = tables.Column(accessor="row__get_cause_display", verbose_name="What happened")
    change = QuantityColumn(accessor="row__change", base="uL", verbose_name="More or less")
    left = QuantityColumn(base="uL", verbose_name="Then there is")
    other = tables.Column(
        accessor="row__other", linkify=True, verbose_name="Other batch", default=""
    )
    by = tables.Column(accessor="row__by", verbose_name="Who", default="")
    note = tables.Column(accessor="row__note", default="")

    class Meta(HouseTable.Meta):
        prefix = "volume-"
        orderable = False
        empty_text = "Nothing has been measured yet: it stands at its planned volume."

    def render_change(self, value, record):
        words = shown.quantity_text(value, "uL", shown.preference(getattr(self, "request", None)))
        if not record.is_taken_back:
            return words
        return format_html('<s>{}</s> <span class="side">taken back</span>', words)


class UsedTable(HouseTable):
    known = {"day": "typed", "quantity": "moved", "cost": "lot cost"}

    day = DayColumn()
    item = tables.Column(linkify=True)
    lot = tables.Column(linkify=lambda record: record.lot.get_absolute_url(), accessor="lot__mark")
    quantity = QuantityColumn(verbose_name="How much")
    what = tables.Column(verbose_name="What for")
    cost = tables.Column(
        default="not known", attrs={"td": {"class": "number"}, "th": {"class": "number"}}
    )

    class Meta(HouseTable.Meta):
        prefix = "used-"
        orderable = False
        empty_text = "Nothing has been used for it yet."

    def render_cost(self, value):
        return shown.money_text(value)
