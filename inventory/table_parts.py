"""The base table and its columns: every list of the house looks and sorts the same way."""

import re
from collections.abc import Mapping

import django_tables2 as tables
from django.urls import reverse
from django.utils.functional import cached_property
from django.utils.html import format_html, format_html_join

from inventory import clock, shown
from inventory.glossary import GLOSSES
from inventory.household import ROLES
from inventory.known import KNOWN, Known

BADGE = re.compile(r'<span class="badge[^"]*">([^<]+)</span>')


class HouseTable(tables.Table):
    """A list; subclasses write `class Meta(HouseTable.Meta)` and may set `caption` and `wide`.

    `known` says by column which kind of figure of `inventory.known` it holds; every column of
    amounts, prices and counts has its entry (tested).
    """

    caption = ""
    wide = False
    known: Mapping[str, str] = {}

    class Meta:
        template_name = "components/_table.html"
        attrs = {"class": "table"}
        per_page = 50
        empty_text = "Nothing here yet."

    def before_render(self, request):
        role = getattr(request, "role", None)
        for name, bound in list(self.columns.items()):
            if isinstance(bound.column, ActionsColumn) and not bound.column.admits(role):
                self.columns.hide(name)

    @property
    def heading(self) -> str:
        """The column that names the row: the first link to its page, or the first column."""
        shown_columns = list(self.columns)
        links = [bound for bound in shown_columns if isinstance(bound.column, LinkColumn)]
        return (links or shown_columns)[0].name

    @property
    def how_known(self) -> list[tuple[str, Known]]:
        """What stands under the list: how its columns of figures are known."""
        shown_columns = {bound.name: str(bound.header) for bound in self.columns}
        words: dict[str, list[str]] = {}
        for name, kind in self.known.items():
            if name in shown_columns:
                words.setdefault(kind, []).append(shown_columns[name])
        return [(", ".join(columns), KNOWN[kind]) for kind, columns in words.items()]

    @cached_property
    def lines(self) -> list[list[tuple]]:
        """The rows of this page as lists of cells; what a column says is worked out once for all."""
        heading = self.heading
        said = [
            (bound.name, bound.name == heading, bound.attrs["td"].get("class"), bound.header)
            for bound in self.columns
        ]
        return [
            [(names_row, css, header, row.get_cell(name)) for name, names_row, css, header in said]
            for row in self.paginated_rows
        ]

    @property
    def words(self) -> list[str]:
        """What stands under the list: the trade words of its headings and of the states in it."""
        headings = [str(bound.header) for bound in self.columns]
        states = (word for cells in self.lines for *_, cell in cells for word in said_in(cell))
        return [word for word in dict.fromkeys([*headings, *states]) if word.lower() in GLOSSES]


def said_in(cell) -> list[str]:
    """The states that a cell shows as badges."""
    return BADGE.findall(cell) if isinstance(cell, str) else []


class LinkColumn(tables.Column):
    """The name of the row, leading to its page; read out as the heading of the row."""

    def __init__(self, *args, linkify=True, **kwargs):
        super().__init__(*args, linkify=linkify, **kwargs)


class QuantityColumn(tables.Column):
    """Whole thousandths in the person's units.

    `item` is the path from the row to its item, "" where the row is the item; `base` (mg, uL or
    mpc) is for amounts that are of no item. `zero` is shown for nothing.
    """

    def __init__(self, *args, item="item", base="", zero="", **kwargs):
        self.item, self.base, self.zero = tables.A(item or ""), base, zero
        numeric = {"class": "number"}
        attrs = {"td": numeric, "th": numeric, "tf": numeric} | kwargs.pop("attrs", {})
        super().__init__(*args, attrs=attrs, **kwargs)

    def kind_of(self, record):
        return self.base or (self.item.resolve(record) if self.item else record)

    def render(self, value, record, table):
        if value == 0 and self.zero:
            return self.zero
        request = getattr(table, "request", None)
        return shown.quantity_text(value, self.kind_of(record), shown.preference(request))

    def value(self, value, record):
        """For a file: exact, and one unit for a whole column, so that it sorts and adds up."""
        kind = self.kind_of(record)
        return shown.exact_text(value, kind if isinstance(kind, str) else kind.base)


class MoneyColumn(tables.Column):
    """Whole hundredths as a price."""

    def __init__(self, *args, **kwargs):
        numeric = {"class": "number"}
        super().__init__(*args, attrs={"td": numeric, "th": numeric, "tf": numeric}, **kwargs)

    def render(self, value):
        return shown.money_text(value)


class DayColumn(tables.Column):
    """A day, with its weekday."""

    def render(self, value):
        return format_html(
            '<time datetime="{}">{}</time>', value.isoformat(), shown.day_text(value)
        )

    def value(self, value):
        return value.isoformat()


class DueColumn(DayColumn):
    """A day that asks for something: says in words whether it is past or near."""

    def __init__(self, *args, late="overdue", soon_days=7, **kwargs):
        self.late, self.soon_days = late, soon_days
        super().__init__(*args, **kwargs)

    def render(self, value):
        today = clock.today()
        days = (value - today).days
        if days > self.soon_days:
            return super().render(value)
        tone, word = ("stop", self.late) if days < 0 else ("warn", shown.away_text(value, today))
        return format_html(
            '{} <span class="badge badge-{}">{}</span>', super().render(value), tone, word
        )


class BadgeColumn(tables.Column):
    """A state in words; `tones` maps the stored value to plain, good, wait, warn or stop."""

    def __init__(self, *args, tones=None, **kwargs):
        self.tones = tones or {}
        super().__init__(*args, **kwargs)

    def render(self, value, record, bound_column):
        stored = bound_column.accessor.resolve(record)
        return format_html(
            '<span class="badge badge-{}">{}</span>', self.tones.get(stored, "plain"), value
        )

    def value(self, value):
        return value


class ActionsColumn(tables.Column):
    """What can be done with a row: pairs of words and the name of an address taking its key."""

    def __init__(self, *actions, write="maker", **kwargs):
        self.actions, self.write = actions, write
        kwargs = {"verbose_name": "What to do", "empty_values": (), "orderable": False} | kwargs
        super().__init__(
            attrs={"td": {"class": "actions"}, "th": {"class": "actions"}},
            exclude_from_export=True,
            **kwargs,
        )

    def admits(self, role) -> bool:
        return role in ROLES and ROLES.index(role) >= ROLES.index(self.write)

    def render(self, record):
        links = (
            (reverse(name, args=[record.pk]), words, str(record)) for words, name in self.actions
        )
        return format_html_join(" ", '<a href="{}">{}<span class="unseen"> {}</span></a>', links)
