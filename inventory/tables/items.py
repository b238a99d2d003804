from html import unescape

import django_tables2 as tables
from django.urls import reverse
from django.utils.html import format_html
from django.utils.safestring import mark_safe

from inventory.table_parts import (
    ActionsColumn,
    DayColumn,
    HouseTable,
    LinkColumn,
    QuantityColumn,
)


class AmountColumn(QuantityColumn):
    """A quantity of the row's item; nothing is left blank."""

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **{"empty_values": (None, "", 0), "default": ""} | kwargs)


class WordsColumn(tables.TemplateColumn):
    """A cell laid out by a fragment; as CSV its bare words."""

    def render(self, **kwargs):
        # An empty cell must hold nothing at all, or it counts as filled on a phone.
        return mark_safe(super().render(**kwargs).strip())

    def value(self, **kwargs):
        return " ".join(unescape(super().value(**kwargs)).split())


class ReceiveColumn(ActionsColumn):
    def __init__(self, **kwargs):
        super().__init__(("receive", "inventory:lot-add"), **kwargs)

    def render(self, record):
        address = f"{reverse('inventory:lot-add')}?item={record.pk}"
        return format_html(
            '<a href="{}">receive<span class="unseen"> {}</span></a>', address, record
        )


class StoreTable(HouseTable):
    known = {
        "on_hand": "on hand",
        "spoken_for": "spoken for",
        "on_its_way": "on its way",
        "short_by": "short by",
        "short_on": "short by",
    }

    item = LinkColumn(order_by="item__name")
    on_hand = AmountColumn(verbose_name="On the shelf", default="none")
    spoken_for = AmountColumn(verbose_name="Spoken for")
    on_its_way = AmountColumn(verbose_name="On its way")
    short_by = AmountColumn(verbose_name="Short by")
    short_on = DayColumn(verbose_name="Short from", default="")
    state = WordsColumn(
        template_name="inventory/_item_state.html", orderable=False, empty_values=()
    )
    actions = ReceiveColumn()

    class Meta(HouseTable.Meta):
        order_by = "item"
        empty_text = "No item answers to that. Clear the search, or add an item."


class OutlookTable(HouseTable):
    known = {
        "day": "day of change",
        "needed": "needed",
        "arrives": "on its way",
        "planned": "to be bought",
        "on_hand": "on hand",
        "short": "short by",
    }
    wide = True

    day = DayColumn(accessor="row__day")
    happens = WordsColumn(verbose_name="What", template_name="inventory/_outlook_what.html")
    needed = AmountColumn(accessor="row__needed")
    arrives = AmountColumn(accessor="row__arrives")
    planned = AmountColumn(accessor="row__planned", verbose_name="To be bought")
    on_hand = QuantityColumn(accessor="row__on_hand", verbose_name="Then on hand")
    short = AmountColumn(accessor="row__short", verbose_name="Short by")

    class Meta(HouseTable.Meta):
        prefix = "days-"
        orderable = False
        empty_text = "Nothing is needed and nothing is on its way."
