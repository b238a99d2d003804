import django_tables2 as tables
from django.utils import timezone
from django.utils.html import format_html

from inventory import shown
from inventory.table_parts import ActionsColumn, DayColumn, HouseTable, QuantityColumn
from planner import figures
from planner.models import Addition, Reading
from planner.readings import words_of


class StrikeColumn(ActionsColumn):
    def render(self, record):
        return "" if record.struck else super().render(record)


class ReadingTable(HouseTable):
    known = {"value": "read off", "corrected": "corrected"}

    at = tables.Column(verbose_name="When")
    value = tables.Column(
        verbose_name="As read", attrs={"td": {"class": "number"}, "th": {"class": "number"}}
    )
    corrected = tables.Column(
        accessor="figure",
        verbose_name="At 20 °C",
        default="",
        orderable=False,
        attrs={"td": {"class": "number"}, "th": {"class": "number"}},
    )
    by = tables.Column(verbose_name="Who")
    note = tables.Column(default="")
    actions = StrikeColumn(("strike through", "planner:reading-strike"))

    class Meta(HouseTable.Meta):
        model = Reading
        fields = ("at", "value", "corrected", "by", "note")
        order_by = "-at"
        empty_text = "Nothing has been read yet. Record the first reading."

    def render_at(self, value):
        moment = timezone.localtime(value)
        return f"{shown.day_text(moment.date())}, {moment:%H:%M}"

    def render_value(self, record):
        words = words_of(record)
        if not record.struck:
            return words
        return format_html(
            '<s>{}</s> <span class="side">struck through: {}</span>', words, record.struck
        )

    def value_value(self, record):
        return f"{words_of(record)}{', struck through' if record.struck else ''}"

    def render_corrected(self, value):
        return figures.text_of(value)


class AdditionTable(HouseTable):
    known = {"day": "typed", "amount": "moved"}

    day = DayColumn()
    what = tables.Column()
    amount = QuantityColumn(item=None, verbose_name="How much")
    purpose = tables.Column(verbose_name="What for")
    rule = tables.Column(verbose_name="By which rule", default="")
    by = tables.Column(verbose_name="Who")
    note = tables.Column(default="")

    class Meta(HouseTable.Meta):
        model = Addition
        fields = ("day", "what", "amount", "purpose", "rule", "by", "note")
        prefix = "added-"
        orderable = False
        empty_text = "Nothing has been added yet beside what its steps used."

    def render_amount(self, record):
        request = getattr(self, "request", None)
        words = shown.quantity_text(record.amount, record.base, shown.preference(request))
        if not record.taken_back:
            return words
        return format_html('<s>{}</s> <span class="side">taken back</span>', words)

    def value_amount(self, record):
        return shown.exact_text(record.amount, record.base)
