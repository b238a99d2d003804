from urllib.parse import urlencode

from django.http import Http404
from django.shortcuts import render
from django.urls import reverse

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
    context["sends"] = sends_of(form, answer) if answer else []
    wrong = form.is_bound and answer is None
    return render(request, "planner/bench_sum.html", context, status=422 if wrong else 200)


def lines_of(answer, preference):
    """Each figure with its text in the person's units and the note on its rule."""
    found = answer.lines if answer else ()
    return [
        (line, figures.text_of(line.figure, preference), figures.note_of(line.figure))
        for line in found
    ]


def sends_of(form, answer):
    """Where the answer can be written down: a reading as typed, an addition as reckoned."""
    found, typed = [], form.data
    if answer.reading:
        kind, key = answer.reading
        brought = {"kind": kind, "value": typed.get(key, "")}
        brought |= {
            name: typed[key]
            for name, key in (("temperature", "sample_c"), ("reference", "calibration_c"))
            if typed.get(key)
        }
        found.append(("Record it as a reading of a batch", _address("reading-add", brought)))
    if answer.addition:
        purpose, label = answer.addition
        line = next((line for line in answer.lines if line.label == label), None)
        if line and line.figure.value:
            brought = {"purpose": purpose, "amount": _amount(line.figure)}
            brought |= {"rule": line.figure.rule[:120], "source": line.figure.source[:200]}
            found.append(("Add it to a batch", _address("addition-add", brought)))
    return found


def _amount(figure):
    """As it can be typed; four decimals, so that no three look like thousands."""
    return f"{figure.value:.4f} {figure.unit}"


def _address(name, brought):
    return f"{reverse(f'planner:{name}')}?{urlencode(brought)}"
