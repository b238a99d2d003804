"""What is typed about an item, and by what is the store narrowed?"""

from decimal import Decimal

from django import forms

from inventory.fields import LineField, NumberField, TextField
from inventory.forms.amounts import AmountField, PriceField, WholeNumberField
from inventory.forms.base import EditForm, HouseForm
from inventory.forms.filters import ListFilter
from inventory.models import Item
from inventory.models.items import BaseUnit, Kind

AMOUNTS = ("pack", "minimum_order", "safety_stock", "teaspoon", "tablespoon")
PIECE = 1000
# A hundred years: beyond it a shelf life says nothing.
MOST_DAYS = 36_500
GROUPS = (
    ("What it is", ("name", "kind", "base", "piece_word", "notes")),
    ("Buying it", ("shop", "pack", "pack_price", "minimum_order", "lead_days", "safety_stock")),
    (
        "Keeping and measuring it",
        (
            "shelf_days_sealed",
            "shelf_days_opened",
            "fades_percent",
            "density_g_per_l",
            "teaspoon",
            "tablespoon",
        ),
    ),
    ("If it is yeast", ("coolest_c", "warmest_c")),
)


class ItemForm(HouseForm):
    """A new item; its amounts are read by the way of counting chosen in the same form."""

    name = LineField(label="Name", most=80)
    kind = forms.ChoiceField(
        label="Kind",
        choices=[("", "choose a kind"), *Kind.choices],
        error_messages={"required": "Choose a kind."},
    )
    base = forms.ChoiceField(
        label="Counted",
        choices=BaseUnit.choices,
        widget=forms.RadioSelect,
        error_messages={"required": "Say whether it is counted by weight, by volume or by piece."},
    )
    piece_word = LineField(
        label="Word for one piece",
        required=False,
        most=30,
        help_text="For what is counted by the piece, for example sachet or lemon.",
    )
    notes = TextField(label="Notes", required=False, widget=forms.Textarea(attrs={"rows": 3}))

    shop = LineField(label="Shop", required=False, most=80, help_text="Where it is bought.")
    pack = AmountField(
        label="Pack",
        required=False,
        zero_ok=False,
        help_text="How much is in one pack, for example 1 kg or 2. Empty: any amount can be had.",
    )
    pack_price = PriceField(label="Price of a pack", required=False, help_text="For example 1.15.")
    minimum_order = AmountField(
        label="Least that can be ordered", required=False, help_text="Empty: no least."
    )
    lead_days = WholeNumberField(
        label="Days from order to delivery", low=0, high=730, required=False
    )
    safety_stock = AmountField(
        label="Always keep",
        required=False,
        help_text="Below this it is running low and is bought again. Empty: nothing.",
    )

    shelf_days_sealed = WholeNumberField(
        label="Keeps sealed, days",
        low=0,
        high=MOST_DAYS,
        required=False,
        help_text="Sets the use-by day of what is received. Empty: it keeps.",
    )
    shelf_days_opened = WholeNumberField(
        label="Keeps opened, days", low=0, high=MOST_DAYS, required=False
    )
    fades_percent = WholeNumberField(
        label="Fades in a year, %",
        low=1,
        high=99,
        required=False,
        help_text="What you suppose it loses of its strength, for example 20 for old sulphite or yeast.",
    )
    density_g_per_l = WholeNumberField(
        label="Grams in one litre",
        low=1,
        high=30_000,
        required=False,
        help_text="Fill it in to type litres of what is counted by weight, or grams of what is "
        "counted by volume.",
    )
    teaspoon = AmountField(
        label="In a teaspoon",
        required=False,
        zero_ok=False,
        help_text="A level spoon of yours, weighed, for example 4.2 g. It lets you type 1 1/2 tsp.",
    )
    tablespoon = AmountField(
        label="In a tablespoon", required=False, zero_ok=False, help_text="For example 12.6 g."
    )

    coolest_c = WholeNumberField(
        label="Works from, °C",
        low=0,
        high=45,
        required=False,
        help_text="The coolest must it may go into, as its packet says.",
    )
    warmest_c = WholeNumberField(
        label="Bears up to, °C",
        low=0,
        high=45,
        required=False,
        help_text="The warmest must it may go into. Without it the house cannot judge.",
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        said = self.data if self.is_bound else self.initial
        base, word = said.get("base"), (said.get("piece_word") or "").strip()
        if base in BaseUnit.values:
            unit = word or None if base == BaseUnit.PIECES else None
            for name in AMOUNTS:
                self.fields[name].measure(base, preference=self.preference, default_unit=unit)

    def groups(self):
        return [(legend, [self[name] for name in names]) for legend, names in GROUPS]

    def values(self):
        """Empty boxes are left to what the table takes for granted."""
        values = super().values()
        least = PIECE if values["base"] == BaseUnit.PIECES else 1
        unsaid = {"pack": least, "minimum_order": 0, "safety_stock": 0, "lead_days": 0}
        return values | {name: unsaid[name] for name in unsaid if values[name] is None}


class EditItemForm(EditForm, ItemForm):
    """The same about an item that is there already."""

    @classmethod
    def initial_of(cls, instance):
        initial = super().initial_of(instance)
        silent = {"pack": 1, "minimum_order": 0, "safety_stock": 0}
        return initial | {name: None for name in silent if initial[name] == silent[name]}


class StoreFilter(ListFilter):
    """Narrows lines of the store; none of their figures can be asked of the database."""

    kind = forms.ChoiceField(required=False, choices=[("", "any kind"), *Kind.choices])
    which = forms.ChoiceField(
        required=False, choices=[("", "in use"), ("archived", "out of sight")]
    )

    def narrow(self, rows):
        return [line for line in rows if self._fits(line.item)]

    def _fits(self, item):
        asked = self.cleaned_data
        text = f"{item.name} {item.shop} {item.notes}".casefold()
        return (
            item.archived == bool(asked["which"])
            and asked["kind"] in ("", item.kind)
            and all(word in text for word in asked["q"].casefold().split())
        )


class SubstituteForm(HouseForm):
    other = forms.ModelChoiceField(
        Item.objects.none(), label="What stands in for it", empty_label="choose an item"
    )
    factor = NumberField(
        label="How much of it for one",
        low=Decimal("0.001"),
        high=1000,
        places=3,
        three_places_ok=True,
        initial=1,
        help_text="By its own unit: 1.3 of honey for 1 of sugar.",
    )
    note = LineField(label="Note", most=160, required=False)

    def __init__(self, *args, item, **kwargs):
        super().__init__(*args, **kwargs)
        rows = Item.objects.filter(archived=False).exclude(pk=item.pk)
        self.fields["other"].queryset = rows.order_by("name")

    def values(self):
        found = super().values()
        return found | {"factor": int(found["factor"] * 1000)}
