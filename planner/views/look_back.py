from django.shortcuts import get_object_or_404, redirect, render
from django.views.decorators.http import require_POST

from inventory import clock, photos
from inventory.access import access
from inventory.models import CellarLot
from inventory.sent import sent_once
from inventory.views.saying import say_done
from planner import book as books
from planner import from_batch, look_back, sharing
from planner.forms.look_back import CompareForm, SharesForm, YearForm
from planner.models import Batch
from planner.views.book import book_context


def _batch(pk):
    return get_object_or_404(Batch.objects.select_related("recipe_version__recipe"), pk=pk)


@access(read="guest")
def batch_back(request, pk):
    """Planned against real, cost, taste, and how the bottles are shared out."""
    batch = _batch(pk)
    found = look_back.of_batch(batch, books.of_batch(batch))
    form = SharesForm(
        request.GET if "who" in request.GET else None, initial={"bottles": found.bottles}
    )
    shared = None
    if form.is_bound and form.is_valid():
        shared = sharing.shares(int(form.cleaned_data["bottles"]), form.cleaned_data["who"])
    context = {"batch": batch, "back": found, "form": form, "shared": shared}
    return render(request, "planner/batch_back.html", context, status=422 if form.errors else 200)


@access(write="maker")
@require_POST
@sent_once
def batch_version(request, pk):
    """The next version of its recipe as it was really made."""
    batch = _batch(pk)
    version = from_batch.version_of(batch=batch, book=books.of_batch(batch), by=request.user)
    say_done(request)
    return redirect(version)


@access(read="guest")
def batch_compare(request):
    """Two batches side by side."""
    form = CompareForm(request.GET or None)
    pairs = []
    if form.is_bound and form.is_valid():
        for name in ("first", "second"):
            batch = form.cleaned_data[name]
            book = books.of_batch(batch)
            pairs.append((batch, look_back.of_batch(batch, book), book_context(book, "metric")))
    context = {"form": form, "pairs": pairs}
    return render(
        request, "planner/batch_compare.html", context, status=422 if form.errors else 200
    )


@access(read="guest")
def year_back(request):
    """A year of the house: what was made, filled, opened and picked."""
    form = YearForm(request.GET or None)
    year = clock.today().year
    if form.is_bound and form.is_valid() and form.cleaned_data["year"]:
        year = int(form.cleaned_data["year"])
    found = look_back.of_year(year)
    pictures = photos.of_rows([*found.batches, *CellarLot.objects.filter(bottled__year=year)])
    context = {
        "year": found,
        "form": form,
        "photos": [photo for rows in pictures.values() for photo in rows][:12],
        "before": year - 1,
    }
    return render(request, "planner/year_back.html", context, status=422 if form.errors else 200)
