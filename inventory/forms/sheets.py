"""A pasted table or a file, and each of its rows as the form that a person would fill in."""

from dataclasses import dataclass, field

from django import forms

from inventory import clock, sheets
from inventory.forms.base import HouseForm
from inventory.forms.files import WholeFile
from inventory.forms.glass import BottleRowForm
from inventory.forms.items import ItemForm
from inventory.forms.stock import ReceiveForm
from inventory.models import Finish, Item, StoragePlace
from inventory.models.items import BaseUnit, Kind
from inventory.refusals import Refusal

MOST_BYTES = 1_000_000
FORMS = {"items": ItemForm, "lots": ReceiveForm, "glass": BottleRowForm}
# Besides the labels of the forms: the headings of our own files, and what people write.
ALSO = {
    "items": {
        "item": "name",
        "unit": "base",
        "price": "pack_price",
        "lead time": "lead_days",
        "reserve": "safety_stock",
        "shelf days": "shelf_days_sealed",
    },
    "lots": {
        "quantity": "quantity",
        "amount": "quantity",
        "on the shelf": "quantity",
        "received": "on",
        "cost": "cost",
        "price": "cost",
    },
    "glass": {
        "item": "name",
        "name": "name",
        "holds": "nominal",
        "mouth": "finish",
        "rated": "rated_mbar",
        "rating": "rated_mbar",
        "source": "rating_source",
    },
}
NEEDED = {
    "items": ("name", "kind", "base"),
    "lots": ("item", "quantity"),
    "glass": ("name", "nominal", "finish"),
}
BASES = {"g": BaseUnit.MASS, "kg": BaseUnit.MASS, "weight": BaseUnit.MASS}
BASES |= {"ml": BaseUnit.VOLUME, "l": BaseUnit.VOLUME, "volume": BaseUnit.VOLUME}
BASES |= {"piece": BaseUnit.PIECES, "pieces": BaseUnit.PIECES}


@dataclass
class SheetRow:
    """One row of a table: what was typed, and what is wrong with it by column."""

    number: int
    cells: list[str]
    form: HouseForm
    wrong: list[tuple[str, str]] = field(default_factory=list)


@dataclass(frozen=True)
class Looked:
    """A table looked through: its columns that are known, those left out, and its rows."""

    columns: list[str]
    left_out: list[str]
    rows: list[SheetRow]

    @property
    def is_good(self) -> bool:
        return bool(self.rows) and not any(row.wrong for row in self.rows)

    def values(self) -> list[tuple[int, dict]]:
        return [(row.number, row.form.values()) for row in self.rows]


class SheetForm(HouseForm):
    what = forms.ChoiceField(
        label="What it holds",
        choices=[
            ("lots", "goods to receive"),
            ("items", "items to name"),
            ("glass", "kinds of bottle, with how many there are"),
        ],
        widget=forms.RadioSelect,
        initial="lots",
    )
    file = WholeFile(
        label="A CSV file", required=False, most_bytes=MOST_BYTES, help_text="In UTF-8."
    )
    # No cleaned text: tabs part the cells.
    text = forms.CharField(
        label="Or the table itself",
        max_length=MOST_BYTES,
        strip=False,
        required=False,
        widget=forms.Textarea,
        help_text=(
            "Copied from a spreadsheet, with its headings. Goods: Item, How much, Received on, Use "
            "by, Place, From, Paid. Items: Name, Kind, Counted, Pack, Price of a pack, Shop. Bottles: Bottle, Holds, Brimful, Mouth, "
            "Rated, Source, Clean, Dirty."
        ),
    )

    def clean(self):
        found = super().clean()
        if found.get("file"):
            _, data = found["file"]
            found["text"] = self._read(data)
        if not self.errors and not (found.get("text") or "").strip():
            raise forms.ValidationError("Choose a file or paste a table.")
        return found

    def _read(self, data: bytes) -> str:
        try:
            return data.decode("utf-8-sig")
        except UnicodeDecodeError:
            self.add_error("file", "This is no UTF-8 text: save it as CSV in UTF-8 first.")
            return ""

    def looked(self) -> Looked:
        """The table with every row tried; raises Refusal where it is no such table."""
        what = self.cleaned_data["what"]
        cells = sheets.read(self.cleaned_data["text"])
        names = _columns(what, cells.headings)
        missing = [
            FORMS[what].base_fields[name].label for name in NEEDED[what] if name not in names
        ]
        if missing:
            raise Refusal(
                f"These columns are missing: {', '.join(missing)}. There are: "
                f"{', '.join(heading or 'one without a name' for heading in cells.headings)}.",
                field="text",
            )
        lookups = _lookups()
        rows = [self._row(what, names, lookups, *row) for row in cells.rows]
        if not rows:
            raise Refusal("There is no row under the headings.", field="text")
        known = [heading for heading, name in zip(cells.headings, names, strict=True) if name]
        unknown = [heading for heading, name in zip(cells.headings, names, strict=True) if not name]
        return Looked(known, unknown, rows)

    def _row(self, what, names, lookups, number, cells) -> SheetRow:
        typed = {
            name: lookups.get(name, {}).get(cell.casefold(), cell)
            for name, cell in zip(names, cells, strict=False)
            if name
        }
        if what == "lots":
            typed["on"] = typed.get("on") or str(clock.today())
        form = FORMS[what](typed, person=self.person)
        row = SheetRow(number, cells, form)
        if len(cells) > len(names):
            row.wrong.append(("", f"{len(cells)} cells stand under {len(names)} headings."))
        for name, says in form.errors.as_data().items():
            label = str(form.fields[name].label) if name in form.fields else ""
            row.wrong += [(label, _words(one, label, typed.get(name, ""))) for one in says]
        return row


def _words(error: forms.ValidationError, label: str, cell: str) -> str:
    """A fault without the name of its column, which stands before it."""
    if error.code == "invalid_choice":
        return f"“{cell}” is not known here."
    return " ".join(error.messages).removeprefix(f"{label}: ")


def _columns(what: str, headings: list[str]) -> list[str]:
    """The field of each heading, by its label or another name for it; empty where none is meant."""
    known = {str(box.label).casefold(): name for name, box in FORMS[what].base_fields.items()}
    known |= {name.replace("_", " "): name for name in FORMS[what].base_fields} | ALSO[what]
    found: list[str] = []
    for heading in headings:
        name = known.get(heading.casefold().strip(), "")
        found.append("" if name in found else name)
    return found


def _lookups() -> dict[str, dict[str, str]]:
    """What a person writes, by column, and what the form is to be given for it; two queries."""
    items = Item.objects.filter(archived=False).values_list("name", "pk")
    places = StoragePlace.objects.values_list("name", "pk")
    return {
        "item": {name.casefold(): str(key) for name, key in items},
        "place": {name.casefold(): str(key) for name, key in places},
        "kind": {label.casefold(): value for value, label in Kind.choices},
        "base": {label.casefold(): value for value, label in BaseUnit.choices} | BASES,
        "finish": {label.casefold(): value for value, label in Finish.choices},
    }
