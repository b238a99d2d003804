from django.shortcuts import render

from inventory import search as finding
from inventory.access import access
from planner.forms.search import SearchForm


@access(read="guest")
def search(request):
    form = SearchForm(request.GET)
    if not form.is_valid():
        return render(request, "planner/search.html", {"form": form}, status=422)
    asked = form.cleaned_data["q"]
    groups = finding.find(asked, role=request.role)
    return render(request, "planner/search.html", {"form": form, "asked": asked, "groups": groups})
