import django_tables2 as tables
from django.db.models import F

from inventory.models import Lot, Movement
from inventory.overview import keeps_until
from inventory.table_parts import (
    ActionsColumn,
    DayColumn,
    DueColumn,
    HouseTable,
    LinkColumn,
    QuantityColumn,
)


class KeepsColumn(DueColumn):
    """The last day on which a lot may be used; once opened it may be an earlier one."""

    def __init__(self, **kwargs):
        super().__init__(late="past its date", soon_days=14, empty_values=(), **kwargs)

    def render(self, record):
        day = keeps_until(record)
        return super().render(day) if day else "it keeps"

    def value(self, record):
        day = keeps_until(record)
        return super().value(day) if day else ""

    def order(self, lots, is_descending):
        """What keeps comes after whatever has a date."""
        by_day = (
            F("use_by").desc(nulls_last=True) if is_descending else F("use_by").asc(nulls_last=True)
        )
        return lots.order_by(by_day, "pk"), True


class LotTable(HouseTable):
    known = {"on_hand": "on hand", "use_by": "use by", "received": "typed"}

    mark = LinkColumn(attrs={"td": {"class": "mark"}})
    item = tables.Column(linkify=True)
    on_hand = QuantityColumn(verbose_name="On the shelf", zero="used up")
    use_by = KeepsColumn(verbose_name="Use by")
    place = tables.Column(accessor="place__name", verbose_name="Place", default="")
    origin = tables.Column(verbose_name="From", default="")
    received = DayColumn()
    actions = ActionsColumn(
        ("use", "inventory:lot-use"),
        ("count", "inventory:lot-count"),
        ("throw out", "inventory:lot-throw"),
    )

    class Meta(HouseTable.Meta):
        model = Lot
        fields = ("mark", "item", "on_hand", "use_by", "place", "origin", "received")
        empty_text = "No lots answer to that. Receive something, or clear the search."


class ItemLotTable(LotTable):
    """The lots of one item, the first to expire first."""

    class Meta(LotTable.Meta):
        exclude = ("item",)
        prefix = "lots-"
        orderable = False
        empty_text = "Nothing on the shelf. Receive some."


class MovementTable(HouseTable):
    known = {"day": "typed", "quantity": "moved"}

    day = DayColumn()
    kind = tables.Column(verbose_name="What")
    quantity = QuantityColumn(item="lot__item", verbose_name="How much")
    lot = tables.Column(
        accessor="lot__mark",
        verbose_name="Lot",
        linkify=("inventory:lot-detail", [tables.A("lot_id")]),
    )
    reason = tables.Column(verbose_name="What for", empty_values=())
    by = tables.Column(verbose_name="Who")

    class Meta(HouseTable.Meta):
        model = Movement
        fields = ("day", "kind", "quantity", "lot", "reason", "by")
        prefix = "moves-"
        per_page = 20
        orderable = False
        empty_text = "Nothing has moved yet."

    def render_reason(self, record):
        return record.requirement or record.reason
