from django.http import Http404
from django.shortcuts import render

from inventory import shown
from inventory.access import access
from planner import bench, figures
from planner.forms.bench import BenchForm


@access(read="guest")
def bench_list(request):
    return render(request, "planner/bench_list.html", {"groups": bench.GROUPS})


@access(read="guest")
def bench_sum(request, slug):
    """One sum; its inputs are the address, so that it can be kept, linked and gone back to."""
    what = bench.SUMS.get(slug)
    if what is None:
        raise Http404("No such sum on the bench.")
    asked = request.GET if any(ask.key in request.GET for ask in what.asks) else None
    form = BenchForm(asked, what=what, person=request.user)
    answer = form.answer() if form.is_bound else None
    context = {"form": form, "what": what, "lines": lines_of(answer, shown.preference(request))}
    context["answer"] = answer
    wrong = form.is_bound and answer is None
    return render(request, "planner/bench_sum.html", context, status=422 if wrong else 200)


def lines_of(answer, preference):
    """Each figure with its text in the person's units and the note on its rule."""
    found = answer.lines if answer else ()
    return [
        (line, figures.text_of(line.figure, preference), figures.note_of(line.figure))
        for line in found
    ]
