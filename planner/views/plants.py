from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from inventory import clock, shown
from inventory.access import access
from inventory.sent import sent_once
from inventory.views.editing import edit_page, form_page
from inventory.views.listing import listing
from planner import busy, harvest, observations, outings, plants, still_to_plan
from planner.catalogue import notes_for
from planner.forms.filters import PlantFilter, SeasonFilter
from planner.forms.plants import OwnPlantForm, SaidForm
from planner.models import Batch, Plant
from planner.phenology import date_of
from planner.season_picture import picks_of, season_picture
from planner.tables.plants import PlantTable

GROUPS = (
    ("going_over", "Going over", "Nothing is going over."),
    ("open", "Open now", "Nothing is open today."),
    ("showing", "Showing", "Nothing is about to open."),
    ("coming", "Still to come", "Nothing more is known to come."),
)
# Label, field of the plant, group of its sources.
FACTS = (
    ("Part picked", "part", ""),
    ("Used for", "uses", ""),
    ("Stage to pick at", "bbch_name", "bbch"),
    ("Days after", "cue", "cue"),
    ("Keeps at room temperature, days", "room_days", "shelf"),
    ("Keeps in the fridge, days", "fridge_days", "shelf"),
    ("Keeps in the freezer, months", "freezer_months", "shelf"),
    ("Left after sorting, percent", "net_yield_percent", "yield"),
    ("Dose", "dose", "dose"),
    ("Sugar, g in 100 g", "sugar", "sugar"),
    ("Acid, g in 100 g", "acid", "acid"),
    ("Tannin", "tannin", "tannin"),
    ("Notes", "notes", ""),
)


@access(read="guest")
def season(request):
    today, form = clock.today(), SeasonFilter(request.GET)
    held = harvest.known(request.house)
    found = harvest.windows(house=request.house, on=today, held=held)
    groups = harvest.grouped(found)
    every = form.is_valid() and form.cleaned_data["all"]
    drawn = [window.plant for window in found if every or window.plant.item_id]
    context = {
        "today": today,
        "groups": [(heading, words, groups[key]) for key, heading, words in GROUPS],
        "every": every,
        "ideas": still_to_plan.ideas(found, today=today),
        "picture": drawn
        and season_picture(
            house=request.house, on=today, plants=drawn, held=held, picks=picks_of(held, drawn)
        ),
    }
    return render(request, "planner/season.html", context)


@access(read="guest")
def plant_list(request):
    return listing(
        request,
        filter_form=PlantFilter,
        rows=Plant.objects.all(),
        table_class=PlantTable,
        template="planner/plant_list.html",
        name="plants",
    )


@access(read="guest")
def plant_detail(request, slug):
    plant = get_object_or_404(Plant, slug=slug)
    made = Batch.objects.filter(recipe_version__lines__item=plant.item_id or 0).distinct()
    today = clock.today()
    held = harvest.known(request.house, [plant])
    window = harvest.window_on(plant, on=today, house=request.house, held=held)
    record = observations.record_of(observations.own_dates(plant, held.seen))
    context = {
        "plant": plant,
        "window": window,
        "window_words": _days_of(window) if window else "",
        "window_rule": _rule_of(plant, window) if window else "",
        "facts": _facts(plant),
        "country": request.house.country,
        "country_notes": notes_for(request.house.country, plant.legal_class),
        "batches": made,
        "record": record,
        "record_facts": _record_facts(record, today.year) if record else [],
    }
    if window:
        context["outings"] = outings.of_plant(
            window, record, busy=busy.spells(since=today), today=today
        )
        context["chance"] = _chance_words(window.opening.chance_on(today))
        # Where the house picks is for its own people.
        if request.role in ("picker", "maker", "keeper"):
            context["patches"] = _at_patches(plant, request.house, held, today)
            context["lately"] = observations.lately(plant)
    return render(request, "planner/plant_detail.html", context)


def _at_patches(plant, house, held, today):
    patches = plant.patches.filter(archived=False)
    return harvest.windows_by_patch(plant, house=house, on=today, patches=patches, held=held)


@access(read="maker", write="maker")
@sent_once
def plant_add(request):
    form = OwnPlantForm(request.POST if request.method == "POST" else None, person=request.user)

    def act(form):
        return plants.add_plant(by=request.user, **form.values())

    cancel = reverse("planner:plant-list")
    words = (
        "For what the catalogue lacks. Its days stay as you type them; own dates move them later."
    )
    page = {"title": "A plant of our own", "submit": "Add it", "words": words}
    return form_page(request, form=form, act=act, cancel=cancel, **page)


@access(read="maker", write="maker")
@sent_once
def plant_edit(request, slug):
    plant = get_object_or_404(Plant, slug=slug)
    return edit_page(request, instance=plant, form_class=SaidForm, save=plants.edit_plant)


def _chance_words(chance):
    """A forecast is never certain."""
    if chance > 0.99:
        return "over 99 %"
    return "under 1 %" if chance < 0.01 else f"{100 * chance:.0f} %"


def _facts(plant):
    return [
        {"label": label, "value": getattr(plant, field), "source": plant.sources.get(group)}
        for label, field, group in FACTS
        if getattr(plant, field)
    ]


def _days_of(window):
    return f"{shown.day_text(window.first)} to {shown.day_text(window.last)}"


def _rule_of(plant, window):
    days = abs(window.shift_days)
    way = "later" if window.shift_days >= 0 else "earlier"
    return (
        f"The catalogue's days at {plant.reference_place}, {days} days {way} for the latitude and "
        "height of this house: about 3.6 days a degree and 3.3 days a hundred metres, half of it "
        "for late fruit (Jeffree 1960; Swiss cherry records)."
    )


def _record_facts(record, year):
    """Earliest, median and latest of the own days, in this year."""
    ends = (("Earliest", record.earliest), ("Median", record.median), ("Latest", record.latest))
    return [(label, shown.day_text(date_of(year, number))) for label, number in ends]
