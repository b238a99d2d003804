"""One way to show a list: narrowed by a form, sorted, paged, and taken away as CSV."""

from django.core.paginator import Paginator
from django.shortcuts import render

from inventory import exports

PER_PAGE = 50
MOST_SORTS = 4


def listing(request, *, rows, table_class, template, name, filter_form=None, context=None):
    """Render a list page, or its CSV at ?format=csv; a filter that cannot be read answers 422."""
    form = filter_form(request.GET) if filter_form else None
    wrong = form is not None and not form.is_valid()
    if form is not None and not wrong:
        rows = form.narrow(rows)
    asked = request.GET.getlist("sort")[:MOST_SORTS]
    sort = [key for key in asked if key.removeprefix("-") in table_class.base_columns]
    table = table_class(rows, order_by=sort or None)
    # Given to the table itself, it would page by the address unchecked.
    table.request = request
    if request.GET.get("format") == "csv" and not wrong:
        return exports.csv_response(table, name)
    table.paginator = Paginator(table.rows, PER_PAGE)
    table.page = table.paginator.get_page(request.GET.get("page"))
    page = {"table": table, "filter": form, **(context or {})}
    return render(request, template, page, status=422 if wrong else 200)
