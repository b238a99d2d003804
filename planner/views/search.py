from django.shortcuts import render

from inventory import search as finding
from inventory.access import access
from inventory.full_text import begin, beginnings
from planner.bench import SUMS
from planner.forms.search import SearchForm


@access(read="guest")
def search(request):
    form = SearchForm(request.GET)
    if not form.is_valid():
        return render(request, "planner/search.html", {"form": form}, status=422)
    asked = form.cleaned_data["q"]
    groups = finding.find(asked, role=request.role)
    context = {"form": form, "asked": asked, "groups": groups, "sums": _sums(asked)}
    return render(request, "planner/search.html", context)


def _sums(asked):
    """The sums of the bench that all the words begin a word of."""
    words = beginnings(asked)
    return [
        one
        for one in SUMS.values()
        if words and begin(f"{one.title} {one.words} {one.lead}", words)
    ]
