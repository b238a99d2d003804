from django_tables2 import Column

from inventory.table_parts import (
    DayColumn,
    DueColumn,
    HouseTable,
    LinkColumn,
    MoneyColumn,
    QuantityColumn,
)
from inventory.tables.items import WordsColumn


class ShortfallTable(HouseTable):
    """One row for each day on which an item is short: {"item": ..., "line": ...}."""

    known = {"day": "short by", "quantity": "short by", "order_day": "order by"}

    item = LinkColumn(order_by="item__name")
    day = DayColumn(accessor="line__day", verbose_name="Short on")
    quantity = QuantityColumn(accessor="line__quantity", verbose_name="Short by")
    hurts = WordsColumn(
        verbose_name="Whom it hurts",
        template_name="inventory/_shortfall_hurts.html",
        orderable=False,
    )
    order_day = DueColumn(
        accessor="line__order__order_day",
        order_by="line__order_day",
        verbose_name="Order by",
        late="overdue",
        default="",
    )
    advice = WordsColumn(
        verbose_name="What to do", template_name="inventory/_shortfall_advice.html", orderable=False
    )

    class Meta(HouseTable.Meta):
        order_by = ("order_day", "item")
        empty_text = "Everything planned is covered."


class ShoppingTable(HouseTable):
    """The lines of the shopping list, to be taken away."""

    known = {"quantity": "to be bought", "price": "price", "order_day": "order by"}

    shop = Column()
    item = LinkColumn()
    quantity = QuantityColumn(verbose_name="How much")
    packs = Column()
    price = MoneyColumn()
    order_day = DayColumn(verbose_name="Order by")
    overdue = Column()
    for_what = WordsColumn(verbose_name="For", template_name="inventory/_shopping_for.html")

    def value_overdue(self, value):
        return "yes" if value else "no"
