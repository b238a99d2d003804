"""The living page: every component in every state, for whoever looks after the pages."""

import datetime as dt
from dataclasses import dataclass

from django import forms
from django.conf import settings
from django.contrib import messages
from django.contrib.messages.storage.base import Message
from django.core.paginator import Paginator
from django.http import Http404
from django.shortcuts import redirect, render
from django.templatetags.static import static
from django.utils import timezone

from inventory import clock
from inventory.access import access
from inventory.fields import DayField, LineField, NumberField, QuantityField, TextField
from inventory.glossary import GLOSSES
from inventory.models import Activity
from inventory.sent import sent_once
from inventory.table_parts import (
    ActionsColumn,
    BadgeColumn,
    DueColumn,
    HouseTable,
    LinkColumn,
    MoneyColumn,
    QuantityColumn,
)
from planner.living_pictures import sample_pictures

TONES = ("plain", "good", "wait", "warn", "stop")
STATES = {"on the shelf": "good", "on its way": "wait", "running low": "warn"}
FIGURES = (
    {"value": "1.0826", "known": "measured", "source": "the hydrometer, 12 Sep, at 20 °C"},
    {"value": "11.3 %", "known": "worked out", "rule": "By the fall of the extract."},
    {"value": "9 % sugar", "known": "taken on trust", "source": "the catalogue"},
    {"value": "", "known": "not known"},
)


@dataclass(frozen=True)
class Thing:
    pk: int
    name: str
    base: str
    state: str
    on_hand: int
    use_by: dt.date
    cost: int

    def __str__(self):
        return self.name

    def get_absolute_url(self):
        return "#tables"


@dataclass(frozen=True)
class SamplePhoto:
    words: str = "The mark of the house"
    width: int = 160
    height: int = 160

    def get_absolute_url(self):
        return static("planner/mark.svg")


class SampleTable(HouseTable):
    caption = "A few things in the store"
    name = LinkColumn(footer="Together")
    state = BadgeColumn(tones=STATES)
    on_hand = QuantityColumn(item="base")
    use_by = DueColumn(late="past its date")
    cost = MoneyColumn(footer=lambda table: f"{sum(row.cost for row in table.data) / 100:.2f}")
    actions = ActionsColumn(("Use", "inventory:lot-use"), ("Count", "inventory:lot-count"))

    class Meta(HouseTable.Meta):
        empty_text = "Nothing in the store yet. Receive your first delivery."


class SampleForm(forms.Form):
    name = LineField(most=40, help_text="As it stands on the jar.")
    quantity = QuantityField(base="mg")
    gravity = NumberField(low=0, high=2, places=4, three_places_ok=True, required=False)
    day = DayField(help_text="12 Sep, tomorrow, sat or +7.")
    kind = forms.ChoiceField(choices=[("", "choose one"), *((word, word) for word in STATES)])
    keep = forms.ChoiceField(
        label="Where it is kept",
        widget=forms.RadioSelect,
        choices=[("dark", "in the dark"), ("light", "in the light")],
    )
    opened = forms.BooleanField(label="It has been opened", required=False)
    notes = TextField(required=False)


class SampleSieve(forms.Form):
    words = LineField(label="Words", required=False, most=40)
    kind = forms.ChoiceField(
        choices=[("", "every state"), *((word, word) for word in STATES)], required=False
    )


WRONG = {"quantity": "1,234 kg", "day": "31 Feb", "gravity": "heavy", "opened": "on"}


@access(read="keeper", write="keeper")
@sent_once
def living(request):
    if not (settings.DEBUG or request.house.living_page):
        raise Http404
    form = SampleForm(request.POST or None, auto_id="own_%s")
    if form.is_valid():
        words = f"Received {form.cleaned_data['name']}: a sample, nothing was stored."
        messages.success(request, words, extra_tags="undo:1")
        return redirect("planner:living")
    page = sample_page(request) | {"form": form}
    return render(request, "planner/living.html", page, status=422 if form.errors else 200)


def sample_page(request) -> dict:
    today = clock.today()
    rows = sample_rows(today)
    table = SampleTable(rows, request=request, order_by=request.GET.getlist("sort") or None)
    table.paginate(page=1, per_page=50)
    return {
        "tones": [(tone, f"{tone} state") for tone in TONES],
        "figures": FIGURES,
        "glosses": sorted(GLOSSES.items()),
        "today": today,
        "table": table,
        "nothing": SampleTable([], prefix="empty-", request=request),
        "page_of_many": Paginator(range(180), 50).page(2),
        "wrong": SampleForm(WRONG, auto_id="wrong_%s"),
        "sieve": SampleSieve(auto_id="sieve_%s"),
        "facts": [("Kind", "ingredient"), ("On hand", "2.5 kg"), ("Use by", "no day")],
        "conflict": [
            ("Name", "White sugar", "White sugar", False),
            ("Shop", "The corner shop", "The mill", True),
        ],
        "said": sample_messages(),
        "pictures": sample_pictures(today),
        "photos": [SamplePhoto()],
        "activity": Activity(
            summary="Received 2.5 kg White sugar", at=timezone.now(), by=request.user
        ),
    }


def sample_rows(today: dt.date) -> list[Thing]:
    day = dt.timedelta(days=1)
    return [
        Thing(1, "White sugar", "mg", "on the shelf", 2_500_000, today + 200 * day, 575),
        Thing(2, "Wine yeast", "mpc", "running low", 1_000, today - 3 * day, 95),
        Thing(3, "Damsons from Beck Bottom, picked at the second gate", "mg", "on the shelf", 5_400_000,
            today + day, 0),
        Thing(4, "Apple juice", "uL", "on its way", 18_000_000, today + 5 * day, 1_240),
    ]  # fmt: skip


def sample_messages() -> list[Message]:
    return [
        Message(messages.SUCCESS, "Received 2.5 kg White sugar.", extra_tags="undo:1"),
        Message(messages.INFO, "That was done already; it counts once."),
        Message(messages.WARNING, "Two lots are past their date; they count for nothing."),
        Message(messages.ERROR, "Nothing was sent: the feed has no address yet."),
    ]
