from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from inventory import clock
from inventory.access import access
from inventory.models import Vessel
from inventory.sent import sent_once
from inventory.views.editing import form_page
from planner import occupancies, vessel_choice, weighing
from planner import vessel_fit as fitting
from planner.forms.vessel_choice import VesselsForm
from planner.forms.vessels import FitForm, WeighForm
from planner.models import Batch
from planner.vessel_count import count_pictures
from planner.vessel_picture import vessel_picture

MOST_CLASHES = 5


@access(read="guest")
def vessel_year(request):
    """Which batch stands in which vessel over a year, and how many are wanted at once."""
    today = clock.today()
    context = {"picture": vessel_picture(on=today), "counts": count_pictures(on=today)}
    return render(request, "planner/vessel_year.html", context)


@access(read="guest")
def vessel_fit(request):
    """Whether it fits, and into what; what is typed stays in the address."""
    form = FitForm(
        request.GET or None, person=request.user if request.user.is_authenticated else None
    )
    vessels = fitting.vessels_in_use_here()
    context = {"form": form, "nothing": not vessels}
    if form.is_bound and form.is_valid():
        typed = form.cleaned_data
        if typed["mash"]:
            context["mash"] = typed["mash"]
            context["rooms"] = fitting.open_rooms(vessels, typed["mash"])
        if typed["pressed"]:
            loss = typed["loss"] or 0
            context["closed"] = fitting.closed(vessels, typed["pressed"], loss_percent=loss)
    wrong = form.is_bound and not form.is_valid()
    return render(request, "planner/vessel_fit.html", context, status=422 if wrong else 200)


@access(read="maker", write="maker")
@sent_once
def batch_vessels(request, pk):
    """Which vessels a batch stands in, span by span, and what helps where two want one."""
    batch = get_object_or_404(Batch.objects.select_related("recipe_version__recipe"), pk=pk)
    found = vessel_choice.choices(batch)
    typed = request.POST if request.method == "POST" else None
    form = VesselsForm(typed, person=request.user, choices=found)

    def act(form):
        vessel_choice.choose(batch=batch, chosen=form.chosen(), by=request.user)
        return reverse("planner:batch-vessels", args=[batch.pk])

    clashes = occupancies.conflicts(batch=batch)[:MOST_CLASHES]
    return form_page(
        request,
        form=form,
        act=act,
        title=f"Vessels for {batch}",
        submit="It stands in these",
        template="planner/batch_vessels.html",
        cancel=batch.get_absolute_url(),
        choices=found,
        clashes=[(one, vessel_choice.ways_out(one)) for one in clashes],
    )


@access(read="maker", write="maker")
@sent_once
def vessel_weigh(request, pk):
    vessel = get_object_or_404(Vessel, pk=pk)
    form = WeighForm(request.POST if request.method == "POST" else None, person=request.user)

    def act(form):
        weighing.weigh(vessel=vessel, by=request.user, **form.cleaned_data)
        return vessel

    words = "Weigh it empty and dry, then full of water to its very edge; the water's density does the rest."
    page = {"title": f"Weigh {vessel}", "submit": "That is what it holds", "words": words}
    return form_page(request, form=form, act=act, cancel=vessel.get_absolute_url(), **page)
