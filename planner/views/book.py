from django.shortcuts import get_object_or_404
from django.urls import reverse

from inventory import clock, shown
from inventory.access import access
from inventory.sent import sent_once
from inventory.views.editing import form_page
from inventory.views.listing import listing
from inventory.views.lots import paged
from planner import additions, book, curve_picture, figures, readings
from planner.forms.book import AdditionForm, ReadingForm, StrikeForm
from planner.models import Addition, Batch, Reading
from planner.tables.book import AdditionTable, ReadingTable

MOST_TYPED = 200


@access(read="guest")
def batch_book(request, pk):
    """Every reading and addition of a batch, and the curve."""
    batch = get_object_or_404(Batch.objects.select_related("recipe_version__recipe"), pk=pk)
    found = book.of_batch(batch)
    added = Addition.objects.filter(batch=batch).select_related("by").order_by("-day", "-pk")
    context = book_context(found, shown.preference(request))
    context |= {"batch": batch, "added": paged(request, AdditionTable(added))}
    return listing(
        request,
        rows=found.lines,
        table_class=ReadingTable,
        template="planner/batch_book.html",
        name="book",
        context=context,
    )


def book_context(found, preference) -> dict:
    """What a batch's page says of its book: figures with their notes, state, curve."""
    rows = [("Strength so far", found.strength), ("Finish to expect", found.finish)]
    ends = [("Start gravity", found.start), ("Gravity now", found.now)]
    rows = [(label, row.figure) for label, row in ends if row] + rows
    facts = [
        (label, figures.text_of(figure, preference), figure, figures.note_of(figure))
        for label, figure in rows
    ]
    picture = curve_picture.curve_picture(found, today=clock.today())
    return {"book": found, "book_facts": facts if found.readings else [], "picture": picture}


def _typed(request, *names):
    """What the address brings along, as it would be typed; anything too long is left out."""
    found = {name: request.GET.get(name, "") for name in names}
    return {name: text for name, text in found.items() if text and len(text) <= MOST_TYPED}


@access(read="maker", write="maker")
@sent_once
def reading_add(request):
    brought = _typed(request, "batch", "kind", "value", "temperature", "reference", "note")
    typed = request.POST if request.method == "POST" else None
    form = ReadingForm(typed, person=request.user, initial=brought)

    def act(form):
        return readings.record(by=request.user, **form.reading())

    cancel = _back(brought.get("batch"))
    return form_page(
        request, form=form, act=act, title="Record a reading", submit="Record it", cancel=cancel
    )


@access(read="maker", write="maker")
@sent_once
def reading_strike(request, pk):
    reading = get_object_or_404(Reading.objects.select_related("batch"), pk=pk)
    form = StrikeForm(request.POST if request.method == "POST" else None, person=request.user)

    def act(form):
        return readings.strike(reading=reading, by=request.user, **form.values())

    return form_page(
        request,
        form=form,
        act=act,
        title="Strike a reading through",
        submit="Strike it through",
        words=f"{readings.words_of(reading)}, {reading.batch}. It stays to be seen, and counts no more.",
        cancel=reading.batch.get_absolute_url(),
    )


@access(read="maker", write="maker")
@sent_once
def addition_add(request):
    brought = _typed(request, "batch", "purpose", "amount", "rule", "source", "note")
    typed = request.POST if request.method == "POST" else None
    form = AdditionForm(typed, person=request.user, initial=brought)

    def act(form):
        return additions.add(by=request.user, **form.values())

    return form_page(
        request,
        form=form,
        act=act,
        title="Add to a batch",
        submit="It is in",
        cancel=_back(brought.get("batch")),
    )


def _back(batch):
    known = batch and batch.isascii() and batch.isdigit() and len(batch) < 18
    return reverse("planner:batch-detail", args=[batch]) if known else reverse("planner:batch-list")
