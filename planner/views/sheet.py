from django.shortcuts import render

from inventory import clock
from inventory.access import access
from planner.forms.filters import SheetFilter
from planner.sheet import sheet_of


@access(read="guest")
def day_sheet(request):
    """A day's work to print; a day that cannot be read answers 422 with the sheet of today."""
    form, today = SheetFilter(request.GET), clock.today()
    day = (form.is_valid() and form.cleaned_data["day"]) or today
    context = {"filter": form, "sheet": sheet_of(day=day, today=today), "today": today}
    status = 200 if form.is_valid() else 422
    return render(request, "planner/day_sheet.html", context, status=status)
