from django.core.paginator import Paginator
from django.shortcuts import render

from inventory import clock, shown
from inventory.access import access
from inventory.views.listing import PER_PAGE
from planner import runs_out


@access(read="guest")
def runs_out_list(request):
    today = clock.today()
    found = runs_out.of_the_house(today=today, preference=shown.preference(request))
    page = Paginator(found, PER_PAGE).get_page(request.GET.get("page"))
    context = {"found": page, "picture": runs_out.picture(found, today=today)}
    return render(request, "planner/runs_out.html", context)
