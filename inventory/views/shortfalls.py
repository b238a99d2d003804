from inventory import clock, shortfalls
from inventory.access import access
from inventory.forms.shortfalls import ShortfallFilter
from inventory.tables.shortfalls import ShortfallTable
from inventory.views.listing import listing


@access(read="guest")
def shortfall_list(request):
    form, today = ShortfallFilter(request.GET), clock.today()
    found = shortfalls.shortfalls(today=today, **form.asked(today)) if form.is_valid() else []
    return listing(
        request,
        filter_form=ShortfallFilter,
        rows=[{"item": outlook.item, "line": line} for outlook in found for line in outlook.lines],
        table_class=ShortfallTable,
        template="inventory/shortfall_list.html",
        name="shortfalls",
        context={
            "found": found,
            "overdue": sum(outlook.overdue for outlook in found),
        },
    )
