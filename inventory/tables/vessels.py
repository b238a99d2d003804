import django_tables2 as tables
from django.urls import reverse
from django.utils.html import format_html, format_html_join

from inventory import shown
from inventory.models import Vessel
from inventory.table_parts import ActionsColumn, BadgeColumn, HouseTable, QuantityColumn
from inventory.units import Base


class BrimfulColumn(QuantityColumn):
    def __init__(self, **kwargs):
        super().__init__(item=None, verbose_name="Holds to the brim", **kwargs)

    def kind_of(self, record):
        return Base.UL


TONES = {"to be washed": "warn", "away": "wait", "put away": "plain", "kept ready": "good"}


class VesselActions(ActionsColumn):
    """What can be done with it as it stands: lend it, take it back, wash it."""

    def render(self, record):
        name = "inventory:vessel-return" if record.lent_to else "inventory:vessel-lend"
        words = "It is back" if record.lent_to else "Lend"
        more = [(words, name)]
        if record.to_wash and not record.lent_to:
            more.insert(0, ("Washed", "inventory:vessel-wash"))
        links = ((reverse(name, args=[record.pk]), words, str(record)) for words, name in more)
        own = format_html_join(" ", '<a href="{}">{}<span class="unseen"> {}</span></a>', links)
        return own if record.archived else format_html("{} {}", own, super().render(record))


class VesselTable(HouseTable):
    known = {"brimful": "brimful"}

    name = tables.Column()
    kind = tables.Column()
    brimful = BrimfulColumn()
    word = BadgeColumn(
        verbose_name="State", tones=TONES, order_by=("archived", "lent_to", "to_wash")
    )
    more = tables.Column(empty_values=(), orderable=False, verbose_name="What it has")
    note = tables.Column(default="")
    actions = VesselActions(("Change", "inventory:vessel-edit"), ("Weigh", "planner:vessel-weigh"))

    class Meta(HouseTable.Meta):
        model = Vessel
        fields = ("name", "kind", "brimful", "word", "more", "note", "actions")
        empty_text = "No vessels yet. Add the first bucket, jar or cask."

    def render_more(self, record):
        away = f"with {record.lent_to}" if record.lent_to else ""
        due = f", wanted back on {shown.day_text(record.back_by)}" if record.back_by else ""
        parts = [
            f"{away}{due}",
            record.mouth,
            f"marks at {record.marks}" if record.marks else "",
            "airlock" if record.airlock else "",
            "hose for the foam" if record.blow_off else "",
        ]
        return "; ".join(filter(None, parts))

    def value_more(self, record):
        return self.render_more(record)
