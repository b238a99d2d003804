from django.shortcuts import render

from inventory import clock
from inventory.access import access
from planner.today import day_of


@access(read="guest")
def today(request):
    return render(
        request, "planner/today.html", {"day": day_of(house=request.house, today=clock.today())}
    )
