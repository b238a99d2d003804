import django_tables2 as tables
from django.utils.dates import MONTHS
from django.utils.html import format_html

from inventory.known import KNOWN
from inventory.models import Loan
from inventory.table_parts import (
    ActionsColumn,
    DayColumn,
    DueColumn,
    HouseTable,
    LinkColumn,
    QuantityColumn,
)

# One and several; a missing bottle is no fault of the parts.
PARTS = {
    "closure": ("closure", "closures"),
    "closure that fits": ("closure that fits", "closures that fit"),
    "cage": ("cage", "cages"),
}
NUMBER = {"td": {"class": "number"}, "th": {"class": "number"}}


class CountColumn(tables.Column):
    """Whole pieces in one state; none is left blank."""

    def __init__(self, state, **kwargs):
        more = {"empty_values": (None, "", 0), "default": "", "orderable": False, "attrs": NUMBER}
        super().__init__(accessor=f"counts__{state}", **more | kwargs)


class NamedColumn(LinkColumn):
    """A kind of glass, leading to its page, and below it what it is; `words` say that."""

    def __init__(self, words, **kwargs):
        self.words = words
        super().__init__(linkify=False, **kwargs)

    def render(self, value, record):
        what = self.words(record.kind) if record.kind else "not described yet"
        return format_html(
            '<a href="{}">{}</a> <span class="side">{}</span>',
            value.get_absolute_url(),
            value,
            what,
        )


def rating_words(kind) -> str:
    """A rating with its source; what is not known counts as not for pressure."""
    if kind.rated_mbar is None:
        return "rating not known, so not for fizz"
    return f"rated {kind.rated_mbar / 1000:g} bar ({kind.rating_source})"


def use_words(kind) -> str:
    return "for one use" if kind.uses == 1 else f"for {kind.uses} uses"


def bottle_words(kind) -> str:
    colour = f"{kind.colour}, " if kind.colour else ""
    return f"{colour}{kind.get_finish_display()}; {rating_words(kind)}"


def closure_words(kind) -> str:
    more = [
        "needs a cage" if kind.needs_cage else "",
        f"needs a {kind.tool}" if kind.tool else "",
        use_words(kind),
        rating_words(kind),
    ]
    return f"{' or '.join(kind.fitting)}; {', '.join(words for words in more if words)}"


def missing_words(sets) -> str:
    """Which part is wanted before every bottle of this kind can be filled and shut."""
    wanted = [
        f"{each.count} {PARTS[each.part][each.count != 1]}"
        for each in sets.missing
        if each.part in PARTS
    ]
    return f"wanting {', '.join(wanted)}" if wanted else ""


class UsableColumn(tables.Column):
    """Sets usable now and after washing, with the part that is missing for more."""

    def __init__(self, **kwargs):
        super().__init__(verbose_name="Usable sets", attrs=NUMBER, **kwargs)

    def render(self, value):
        more = [
            f"{value.washed} after washing" if value.washed > value.now else "",
            missing_words(value),
        ]
        return format_html(
            '{} <span class="side">{}</span>', value.now, ", ".join(each for each in more if each)
        )

    def value(self, value):
        return value.now


class GlassTable(HouseTable):
    known = {
        "nominal": "holds",
        "clean": "counted glass",
        "dirty": "counted glass",
        "filled": "counted glass",
        "lent": "counted glass",
        "cracked": "counted glass",
        "sets": "sets",
    }

    item = NamedColumn(bottle_words, verbose_name="Bottle")
    nominal = QuantityColumn(
        accessor="kind__nominal", base="uL", verbose_name="Holds", default="not known"
    )
    clean = CountColumn("clean", default="none")
    dirty = CountColumn("dirty")
    filled = CountColumn("filled")
    lent = CountColumn("lent")
    cracked = CountColumn("cracked")
    sets = UsableColumn(default="not known")
    actions = ActionsColumn(
        ("move", "inventory:glass-move"),
        ("lend", "inventory:glass-lend"),
        ("describe", "inventory:glass-describe"),
    )

    class Meta(HouseTable.Meta):
        orderable = False
        empty_text = "No bottles yet. Add an item of the kind bottle, then receive some."


class ClosureTable(HouseTable):
    known = {"held": "on hand"}

    item = NamedColumn(closure_words, verbose_name="Closure")
    held = tables.Column(verbose_name="On the shelf", attrs=NUMBER)
    actions = ActionsColumn(("describe", "inventory:glass-describe"))

    class Meta(HouseTable.Meta):
        prefix = "closures-"
        orderable = False
        empty_text = "No closures yet. Add an item of the kind closure."


class CageTable(HouseTable):
    known = {"held": "on hand"}

    item = NamedColumn(use_words, verbose_name="Cage")
    held = tables.Column(verbose_name="On the shelf", attrs=NUMBER)
    actions = ActionsColumn(("describe", "inventory:glass-describe"))

    class Meta(HouseTable.Meta):
        prefix = "cages-"
        orderable = False
        empty_text = "No cages yet. Add an item of the kind cage."


class LoanTable(HouseTable):
    known = {"out": "counted", "lent": "typed", "due": "typed"}

    to = tables.Column(verbose_name="To whom")
    out = tables.Column(verbose_name="Still out", orderable=False, attrs=NUMBER)
    item = tables.Column(verbose_name="Bottle", linkify=True)
    lent = DayColumn(verbose_name="Lent on")
    due = DueColumn(verbose_name="Wanted back", default="no day agreed")
    actions = ActionsColumn(("they came back", "inventory:loan-return"))

    class Meta(HouseTable.Meta):
        model = Loan
        fields = ("to", "out", "item", "lent", "due")
        prefix = "loans-"
        orderable = False
        empty_text = "Nothing is lent."


class MonthsTable(HouseTable):
    """Usable sets at the end of each month, a column for each kind of bottle."""

    month = tables.Column(accessor="first", verbose_name="By the end of")

    class Meta(HouseTable.Meta):
        prefix = "months-"
        orderable = False
        per_page = 12
        empty_text = "Say what a kind of bottle is, and its sets are counted ahead."

    @property
    def how_known(self):
        return [("Sets", KNOWN["sets"])]

    @classmethod
    def of(cls, months, bottles):
        """`bottles` are the described kinds; each becomes a column."""
        columns = [(f"sets_{line.pk}", SetsColumn(line)) for line in bottles]
        return cls(months, extra_columns=columns)

    def render_month(self, value):
        return f"{MONTHS[value.month]} {value.year}"


class SetsColumn(tables.Column):
    def __init__(self, line):
        super().__init__(verbose_name=str(line), accessor=f"sets__{line.pk}", attrs=NUMBER)

    def render(self, value):
        short = missing_words(value)
        return format_html('{} <span class="side">{}</span>', value.now, short)
