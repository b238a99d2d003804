"""What happens to a batch beside its planned steps: its volume, its parts, unplanned steps, its trace."""

from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from inventory import clock
from inventory.access import access
from inventory.models import Lot
from inventory.sent import sent_once
from inventory.views.editing import form_page
from inventory.views.lots import paged
from planner import added_steps, parting, trace, volumes
from planner.forms.steps import AddStepForm
from planner.forms.volumes import MEASURED, PartForm, PourForm, VolumeForm
from planner.models import Batch, Cause
from planner.models.volume import LOSSES
from planner.tables.volumes import UsedTable, VolumeTable


def _batch(pk):
    return get_object_or_404(Batch.objects.select_related("recipe_version__recipe"), pk=pk)


def _batch_form(request, batch, form, act, **page):
    page = {"cancel": batch.get_absolute_url(), "batch": batch, **page}
    return form_page(request, form=form, act=act, **page)


@access(read="maker", write="maker")
@sent_once
def batch_volume(request, pk):
    """The volume ledger, and one form for whatever made it more or less."""
    batch = _batch(pk)
    typed = request.POST if request.method == "POST" else None
    form = VolumeForm(
        typed, person=request.user, initial={"cause": request.GET.get("cause", "")[:10]}
    )

    def act(form):
        _write_volume(batch, by=request.user, **form.values())
        return reverse("planner:batch-volume", args=[batch.pk])

    lines = volumes.lines_of(batch)
    return _batch_form(
        request,
        batch,
        form,
        act,
        title=f"How much of {batch} there is",
        submit="Write it down",
        template="planner/batch_volume.html",
        volume=volumes.of_batch(batch),
        table=paged(request, VolumeTable(lines[::-1])),
    )


def _write_volume(batch, *, cause, amount, on, note, by):
    about = {"batch": batch, "on": on, "by": by, "note": note}
    if cause == MEASURED:
        return volumes.measure(volume=amount, **about)
    do = volumes.take if Cause(cause) in LOSSES else volumes.put
    return do(cause=cause, amount=amount, **about)


@access(read="maker", write="maker")
@sent_once
def batch_part(request, pk):
    batch = _batch(pk)
    form = PartForm(request.POST if request.method == "POST" else None, person=request.user)

    def act(form):
        return parting.part(batch=batch, by=request.user, **form.values())

    words = (
        "The new batch takes the readings so far, the steps still to do and its share of what they need. "
        "Each goes its own way from then on."
    )
    page = {"title": f"Part {batch}", "submit": "Part it", "words": words}
    return _batch_form(request, batch, form, act, **page)


@access(read="maker", write="maker")
@sent_once
def batch_pour(request, pk):
    batch = _batch(pk)
    typed = request.POST if request.method == "POST" else None
    form = PourForm(typed, person=request.user, batch=batch)

    def act(form):
        values = form.values()
        about = {
            "source": batch,
            "target": values["target"],
            "on": values["on"],
            "by": request.user,
        }
        if values["amount"] is None:
            return parting.join(**about)
        return volumes.pour(amount=values["amount"], **about)[0]

    words = (
        "What two batches come to together is not what either was: read the gravity of the second "
        "anew afterwards."
    )
    page = {"title": f"Pour {batch} into another", "submit": "Pour it", "words": words}
    return _batch_form(request, batch, form, act, **page)


@access(read="maker", write="maker")
@sent_once
def step_add(request, pk):
    batch = _batch(pk)
    typed = request.POST if request.method == "POST" else None
    form = AddStepForm(typed, person=request.user, initial={"day": clock.today()})

    def act(form):
        return added_steps.add_steps(batch=batch, by=request.user, **form.values())[0]

    page = {"title": f"Another step for {batch}", "submit": "Put it in"}
    return _batch_form(request, batch, form, act, **page)


@access(read="guest")
def batch_trace(request, pk):
    """Out of which lots it was made, and what they cost."""
    batch = _batch(pk)
    used = trace.of_batch(batch)
    context = {
        "batch": batch,
        "cost": trace.cost_of(used),
        "table": paged(request, UsedTable(used)),
        "parts": batch.parted_off.order_by("pk"),
    }
    return render(request, "planner/batch_trace.html", context)


@access(read="guest")
def lot_trace(request, pk):
    """Where a lot went: what to look at when something is wrong with it."""
    lot = get_object_or_404(Lot.objects.with_on_hand().select_related("item", "place"), pk=pk)
    return render(request, "planner/lot_trace.html", {"lot": lot, "goes": trace.of_lot(lot)})
