import django_tables2 as tables
from django.utils import timezone
from django.utils.formats import date_format

from inventory.models import Activity, Person
from inventory.table_parts import ActionsColumn, HouseTable, LinkColumn


class MomentColumn(tables.Column):
    """A moment on the house's clock."""

    def render(self, value):
        return date_format(timezone.localtime(value), "D j M Y, H:i")

    def value(self, value):
        return value.isoformat()


class PersonTable(HouseTable):
    username = tables.Column(verbose_name="Signs in as")
    called = tables.Column(accessor="first_name", verbose_name="Called", default="")
    role = tables.Column(default="none")
    last_login = MomentColumn(verbose_name="Last signed in", default="never")
    active = tables.Column(accessor="is_active", verbose_name="May sign in")
    actions = ActionsColumn(
        ("Change", "inventory:person-edit"),
        ("One-time link", "inventory:invitation"),
        write="keeper",
    )

    class Meta(HouseTable.Meta):
        model = Person
        fields = ("username", "called", "role", "last_login", "active", "actions")
        empty_text = "Nobody yet. Add the first person."

    def render_active(self, value):
        return "yes" if value else "no"


class ActivityTable(HouseTable):
    summary = LinkColumn(verbose_name="What was done")
    by = tables.Column(verbose_name="Who", default="the house")
    at = MomentColumn(verbose_name="When")
    undo = tables.TemplateColumn(
        template_name="inventory/_activity_undo.html",
        verbose_name="What to do",
        orderable=False,
        exclude_from_export=True,
        attrs={"td": {"class": "actions"}},
    )

    class Meta(HouseTable.Meta):
        model = Activity
        fields = ("summary", "by", "at", "undo")
        empty_text = "Nothing was done yet that answers to this."
