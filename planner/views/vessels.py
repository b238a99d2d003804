from django.shortcuts import render

from inventory import clock
from inventory.access import access
from planner.vessel_count import count_pictures
from planner.vessel_picture import vessel_picture


@access(read="guest")
def vessel_year(request):
    """Which batch stands in which vessel over a year, and how many are wanted at once."""
    today = clock.today()
    context = {"picture": vessel_picture(on=today), "counts": count_pictures(on=today)}
    return render(request, "planner/vessel_year.html", context)
