from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST

from inventory import clock, shown
from inventory.access import access
from inventory.models import Activity
from inventory.sent import sent_once
from inventory.views.editing import edit_page, form_page
from inventory.views.listing import listing
from inventory.views.saying import say_done
from planner import batches, book, bottling, outlook, tastings, volumes
from planner.forms.batches import BatchForm, PlanForm
from planner.forms.filters import BatchFilter
from planner.models import Batch, RecipeVersion
from planner.tables.batches import BatchTable
from planner.views.book import book_context


@access(read="guest")
def batch_list(request):
    return listing(
        request,
        filter_form=BatchFilter,
        rows=Batch.objects.with_next_step().select_related("recipe_version__recipe"),
        table_class=BatchTable,
        template="planner/batch_list.html",
        name="batches",
    )


@access(read="maker", write="maker")
@sent_once
def batch_add(request):
    """Plan a batch: the recipe version, the volume and the day it starts."""

    def plan(form):
        return batches.plan(by=request.user, **form.cleaned_data)

    return form_page(
        request,
        form=PlanForm(request.POST or None, person=request.user, initial=_wishes(request)),
        act=plan,
        title="Plan a batch",
        submit="Set it down",
        template="planner/batch_add.html",
        cancel=reverse("planner:batch-list"),
        has_recipes=RecipeVersion.objects.exists(),
    )


def _wishes(request):
    """A recipe, a volume and today, chosen before, by the address; anything unknown is left out."""
    wishes = {}
    for box, name in (("recipe_version", "version"), ("volume", "volume")):
        asked = request.GET.get(name, "")
        if asked.isascii() and asked.isdigit() and len(asked) < 16:
            wishes[box] = int(asked)
    return wishes | ({"start": clock.today()} if request.GET.get("today") == "1" else {})


@access(read="guest")
def batch_detail(request, pk):
    rows = Batch.objects.select_related("recipe_version__recipe", "planned_by")
    batch = get_object_or_404(rows, pk=pk)
    found = book.of_batch(batch)
    context = {
        "batch": batch,
        "bottlings": bottling.of_batch(batch),
        "tastings": tastings.of_batch(batch),
        "volume": volumes.of_batch(batch),
        "outlook": outlook.of_batch(batch, today=clock.today(), book=found),
        "activities": Activity.objects.filter(
            link__startswith=batch.get_absolute_url()
        ).select_related("by")[:10],
    }
    context |= book_context(found, shown.preference(request))
    return render(request, "planner/batch_detail.html", context)


@access(read="maker", write="maker")
@sent_once
def batch_edit(request, pk):
    def save(batch, **edit):
        return batches.edit_batch(batch=batch, **edit)

    batch = get_object_or_404(Batch, pk=pk)
    return edit_page(request, instance=batch, form_class=BatchForm, save=save)


@access(write="maker")
@require_POST
@sent_once
def batch_drop(request, pk):
    batch = get_object_or_404(Batch, pk=pk)
    batches.drop(batch=batch, by=request.user)
    say_done(request)
    return redirect(batch)
