"""What is typed on bottling day: what is wanted, and then what was really filled."""

from django import forms

from inventory import allocation
from inventory.fields import LineField, QuantityField
from inventory.forms.amounts import OnField, PlaceField, WholeNumberField
from inventory.forms.base import HouseForm
from inventory.measures import US
from inventory.models import Lot, StoragePlace
from inventory.units import Base
from planner.bottling import Done
from planner.bottling_plan import Plan, Wish
from planner.fields import FloatField, TemperatureField

AIMS = {
    allocation.Aim.NOTHING_LEFT: "as little left over as can be",
    allocation.Aim.FEWEST: "the fewest bottles",
    allocation.Aim.BIGGEST: "the biggest first",
}
KINDS = {
    "sucrose": "white sugar",
    "glucose monohydrate": "dextrose (glucose monohydrate)",
    "honey": "honey",
}
STILL, FIZZ = "still", "fizz"
GROUPS = (
    ("What is wanted", ("closing", "place", "aim", "spare", "wished", "with_dirty", "short_ok")),
    ("If it is to have fizz", ("volumes", "warmest_c", "abv", "kind", "lower")),
    ("What will not be in the bottles", ("sample", "hose")),
)


class WishForm(HouseForm):
    """By GET, so that the plan can be kept, printed and sent on."""

    closing = forms.ChoiceField(
        label="How it is closed", choices=[(STILL, "still"), (FIZZ, "with fizz")]
    )
    place = PlaceField(label="Where it will lie")
    volumes = FloatField(
        label="Fizz wanted, in volumes",
        low=0.5,
        high=7,
        required=False,
        help_text="2 is lively, 3 foams, 4 and more only in glass made for it.",
    )
    warmest_c = TemperatureField(
        label="Warmest it has been since it was quiet",
        required=False,
        help_text="It holds less gas the warmer it was; for example 18 C.",
    )
    abv = FloatField(label="Strength, % vol", low=0, high=20, required=False)
    kind = forms.ChoiceField(label="Priming sugar", choices=KINDS.items(), required=False)
    lower = forms.BooleanField(
        label="Give each kind of bottle no more than four fifths of its rating", required=False
    )
    aim = forms.ChoiceField(label="What matters", choices=[(a.value, w) for a, w in AIMS.items()])
    spare = QuantityField(
        label="May be left over, for the fewest bottles",
        base=Base.UL,
        required=False,
        help_text="For example 150 mL.",
    )
    wished = LineField(
        label="Bottles set aside first",
        required=False,
        most=80,
        help_text="By size, for example 6 x 375 mL for gifts.",
    )
    sample = QuantityField(label="Taken as a sample", base=Base.UL, required=False)
    hose = QuantityField(label="Left in hose and vessel", base=Base.UL, required=False)
    with_dirty = forms.BooleanField(
        label="Count the dirty bottles, to be washed before", required=False
    )
    short_ok = forms.BooleanField(
        label="The last bottle may be filled short, to four fifths", required=False
    )

    def __init__(self, *args, **kwargs):
        super().__init__(*args, **kwargs)
        self.fields["place"].queryset = StoragePlace.objects.all()
        self.fields["warmest_c"].fahrenheit = self.preference == US

    def groups(self):
        return [(legend, [self[name] for name in names]) for legend, names in GROUPS]

    def clean(self):
        found = super().clean()
        if found.get("closing") == FIZZ:
            for name, words in (
                ("volumes", "Say how much fizz is wanted."),
                ("warmest_c", "Say how warm it has been: the gas it holds depends on it."),
                ("abv", "Say how strong it is, or read its start and its end."),
            ):
                if found.get(name) is None and name not in self.errors:
                    self.add_error(name, words)
        return found

    def clean_wished(self):
        """Pairs of (count, millilitres), as in 6 x 375 mL."""
        text = self.cleaned_data["wished"].replace("mL", "").replace("ml", "")
        pairs = []
        for part in filter(None, (piece.strip() for piece in text.split(","))):
            count, _, size = part.replace("×", "x").partition("x")
            if not (count.strip().isdecimal() and size.strip().isdecimal()):
                raise forms.ValidationError("Type it as 6 x 375 mL, 2 x 750 mL.")
            if not (0 < int(count) <= 5000 and 0 < int(size) <= 60_000):
                raise forms.ValidationError("So many bottles of such a size there are not.")
            pairs.append((int(count), int(size)))
        return pairs

    def wish(self, sizes: dict[int, int]) -> Wish:
        """`sizes` are the millilitres of each kind of bottle, by item."""
        found = self.cleaned_data
        wished: dict[int, int] = {}
        for count, size in found["wished"]:
            item = next((key for key, held in sizes.items() if held == size), None)
            if item is None:
                self.add_error("wished", f"No bottle of {size} mL is in the house.")
            else:
                wished[item] = wished.get(item, 0) + count
        return Wish(
            sample=found["sample"] or 0,
            hose=found["hose"] or 0,
            aim=found["aim"],
            spare=found["spare"] or 0,
            wished=wished,
            with_dirty=found["with_dirty"],
            short_ok=found["short_ok"],
            is_fizzy=found["closing"] == FIZZ,
            volumes=found["volumes"],
            warmest_c=found["warmest_c"],
            abv=found["abv"],
            kind=found["kind"] or "sucrose",
            lower=found["lower"],
            place=found["place"],
        )


class DoneForm(HouseForm):
    """What was really filled, kind by kind; begins with what the plan says."""

    on = OnField(label="Filled on")

    def __init__(self, *args, plan: Plan, is_fizzy: bool, **kwargs):
        super().__init__(*args, **kwargs)
        self.plan = plan
        for line in plan.lines:
            key = line.item.pk
            self.fields[f"count_{key}"] = WholeNumberField(
                label="Filled", low=0, high=5000, required=False,
                initial=min(line.count, line.clean),
            )  # fmt: skip
            self.fields[f"broken_{key}"] = WholeNumberField(
                label="Broke today", low=0, high=5000, required=False
            )
        if plan.lines:
            choices = [("", "none"), *((str(line.item.pk), str(line.item)) for line in plan.lines)]
            self.fields["short_item"] = forms.ChoiceField(
                label="One more, filled short", choices=choices, required=False,
                initial=str(plan.short[0].pk) if plan.short else "",
            )  # fmt: skip
            self.fields["short_fill"] = QuantityField(
                label="How much is in that one", base=Base.UL, required=False, zero_ok=False,
                initial=plan.short[1] if plan.short else None,
            )  # fmt: skip
            self.fields["short_fill"].measure(Base.UL, preference=self.preference)
        if is_fizzy:
            lots = Lot.objects.filter(item__kind="ingredient").in_stock().select_related("item")
            self.fields["priming_lot"] = forms.ModelChoiceField(
                lots, label="Priming sugar out of", required=False, empty_label="choose a lot"
            )
            self.fields["priming_lot"].label_from_instance = lambda lot: f"{lot.item}, {lot.mark}"
        self.fields["reason"] = LineField(
            label="Why it goes on all the same",
            most=400,
            required=False,
            help_text="Only if the house says to look again.",
        )

    def clean(self):
        found = super().clean()
        if bool(found.get("short_item")) != bool(found.get("short_fill")):
            self.add_error("short_fill", "Say both which bottle and how much is in it, or neither.")
        return found

    def pairs(self):
        """Each kind of bottle with its two boxes."""
        return [
            (line, self[f"count_{line.item.pk}"], self[f"broken_{line.item.pk}"])
            for line in self.plan.lines
        ]

    def others(self):
        paired = {box.name for _, *boxes in self.pairs() for box in boxes}
        return [field for field in self.visible_fields() if field.name not in paired]

    def done(self) -> Done:
        found = self.cleaned_data
        short = None
        if found.get("short_item"):
            short = (int(found["short_item"]), found["short_fill"])
        return Done(
            counts=self._numbers("count"),
            broken=self._numbers("broken"),
            short=short,
            priming_lot=found.get("priming_lot"),
            reason=found.get("reason", ""),
            planned=self.plan.bottles,
        )

    def _numbers(self, name: str) -> dict[int, int]:
        return {
            line.item.pk: int(self.cleaned_data.get(f"{name}_{line.item.pk}") or 0)
            for line in self.plan.lines
        }
