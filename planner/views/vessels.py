from django.shortcuts import render

from inventory import clock
from inventory.access import access
from planner import vessel_fit as fitting
from planner.forms.vessels import FitForm
from planner.vessel_count import count_pictures
from planner.vessel_picture import vessel_picture


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
