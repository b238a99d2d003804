"""What is typed when a bottle is opened, given, moved or broken, and how it tasted?"""

from django import forms

from inventory.fields import LineField, TextField
from inventory.forms.amounts import OnField, PlaceField, WholeNumberField
from inventory.forms.base import HouseForm
from inventory.forms.filters import ListFilter
from inventory.models import Fate, Finish, Item, StoragePlace
from planner.cellar_view import TONES
from planner.models import Liking

FATES = (
    (Fate.OPENED, "opened to drink"),
    (Fate.TESTED, "opened as a test"),
    (Fate.GIVEN, "given away"),
    (Fate.BROKEN, "broken"),
    (Fate.BURST, "burst"),
)
AGAIN = (("", "not said"), ("yes", "yes"), ("no", "no"))


class LyingForm(HouseForm):
    """About bottles of a lot, some of which lie at each of its places."""

    count = WholeNumberField(label="How many bottles", low=1, high=100_000, initial=1)
    where = forms.ChoiceField(label="From where")
    on = OnField(label="On")

    def __init__(self, *args, held, **kwargs):
        super().__init__(*args, **kwargs)
        self.places = {str(one.place.pk if one.place else ""): one.place for one in held.lying}
        self.fields["where"].choices = [
            (key, f"{place or 'no place noted'}, {one.count} there")
            for (key, place), one in zip(self.places.items(), held.lying, strict=True)
        ]
        self.fields["where"].required = "" not in self.places

    def place(self) -> StoragePlace | None:
        return self.places[self.cleaned_data["where"]]


class TakeForm(LyingForm):
    fate = forms.ChoiceField(label="What happened", choices=FATES)
    note = LineField(label="To whom, or a note", most=200, required=False)
    comes_back = forms.BooleanField(label="The empty glass is to come back", required=False)

    field_order = ("fate", "count", "where", "on", "note", "comes_back")


class MoveBottlesForm(LyingForm):
    target = PlaceField(label="To where")


class TastingForm(HouseForm):
    on = OnField(label="Tasted on")
    liking = forms.ChoiceField(label="How it was", choices=Liking.choices, widget=forms.RadioSelect)
    words = TextField(label="In words: nose, taste, fizz, what came with it", required=False)
    came_true = forms.MultipleChoiceField(
        label="Which wishes came true", required=False, widget=forms.CheckboxSelectMultiple
    )
    again = forms.ChoiceField(label="Would you make it again?", choices=AGAIN, required=False)
    lesson = LineField(label="To do better next time", most=400, required=False)

    def __init__(self, *args, wishes=(), **kwargs):
        super().__init__(*args, **kwargs)
        if wishes:
            self.fields["came_true"].choices = [(word, word) for word in wishes]
        else:
            del self.fields["came_true"]
        self.wishes = list(wishes)

    def values(self):
        found = super().values()
        true = found.pop("came_true", [])
        found["wishes"] = {word: word in true for word in self.wishes}
        found["again"] = {"yes": True, "no": False}.get(found["again"])
        found["liking"] = int(found["liking"])
        return found


class CellarFilter(ListFilter):
    """Narrows what lies in the cellar; how it stands cannot be asked of the database."""

    place = forms.ModelChoiceField(
        StoragePlace.objects.none(), label="Where", required=False, empty_label="every place"
    )
    word = forms.ChoiceField(
        label="How it stands",
        required=False,
        choices=[("", "however it stands"), *((w, w) for w in TONES)],
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["place"].queryset = StoragePlace.objects.all()

    def narrow(self, rows):
        asked = self.cleaned_data
        return [row for row in rows if self._fits(row, asked)]

    def _fits(self, row, asked) -> bool:
        words = (asked.get("q") or "").casefold().split()
        text = f"{row.lot.name} {row.lot.item} {row.lot.mark}".casefold()
        there = asked.get("place") is None or any(one.place == asked["place"] for one in row.lying)
        right = asked.get("word") in ("", None, row.word)
        return there and right and all(word in text for word in words)


class DecantForm(LyingForm):
    """Bottles of a lot poured into others."""

    into = forms.ModelChoiceField(Item.objects.none(), label="Into", empty_label="choose a bottle")
    filled = WholeNumberField(label="How many of those", low=1, high=100_000, initial=1)
    closure = forms.ModelChoiceField(
        Item.objects.none(), label="Shut with", required=False, empty_label="its own swing top"
    )
    cage = forms.ModelChoiceField(
        Item.objects.none(), label="Cage", required=False, empty_label="none"
    )
    target = PlaceField(label="Where they will lie")
    reason = LineField(
        label="Why it goes on all the same",
        most=200,
        required=False,
        help_text="Only if the house says to look again.",
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        for name, kind in (("into", "bottle"), ("closure", "closure"), ("cage", "cage")):
            rows = Item.objects.filter(kind=kind, archived=False).order_by("name")
            self.fields[name].queryset = rows.select_related("closure_type")

    def clean(self):
        """A closure must fit the mouth, and its cage must be there."""
        found = super().clean()
        into, closure = found.get("into"), found.get("closure")
        kind = getattr(into, "bottle_type", None) if into else None
        said = getattr(closure, "closure_type", None) if closure else None
        if kind and closure and (said is None or kind.finish not in said.fits):
            self.add_error("closure", f"{closure} does not fit {into}.")
        if said and said.needs_cage and not found.get("cage"):
            self.add_error("cage", f"{closure} wants a cage over it.")
        if kind and not closure and kind.finish != Finish.SWING:
            self.add_error("closure", f"Say what shuts {into}.")
        return found
