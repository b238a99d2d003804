import django_tables2 as tables

from inventory.models import Receipt
from inventory.table_parts import (
    ActionsColumn,
    DueColumn,
    HouseTable,
    LinkColumn,
    QuantityColumn,
)


class WhileExpected(ActionsColumn):
    """What can be done until it came or was cancelled."""

    def render(self, record):
        return super().render(record) if record.state == Receipt.State.EXPECTED else ""


class ReceiptTable(HouseTable):
    known = {"quantity": "on its way", "due": "typed"}

    item = LinkColumn()
    quantity = QuantityColumn(verbose_name="How much")
    due = DueColumn(late="late")
    shop = tables.Column(default="")
    note = tables.Column(default="")
    actions = WhileExpected(
        ("it came", "inventory:receipt-arrive"),
        ("another day", "inventory:receipt-move"),
    )

    class Meta(HouseTable.Meta):
        model = Receipt
        fields = ("item", "quantity", "due", "shop", "note")
        order_by = ("due", "item")
        empty_text = "Nothing of that kind. What is ordered is written down as on its way."
