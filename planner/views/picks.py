from django.db.models import Sum
from django.db.models.functions import ExtractYear
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse

from inventory import clock, reservations
from inventory.access import access
from inventory.models import Lot
from inventory.refusals import Refusal
from inventory.sent import sent_once
from inventory.views.editing import brought, edit_page, form_page
from inventory.views.listing import listing
from inventory.views.lots import paged
from inventory.views.saying import say_done
from planner import observations, patches, picks
from planner import pick_in_hand as hand
from planner.forms.picks import (
    EditPatchForm,
    GiveForm,
    ObservationForm,
    PatchForm,
    PickForm,
    SortForm,
)
from planner.models import Patch, Pick, Plant
from planner.tables.picks import PatchPickTable, PatchTable, PickTable


@access(read="picker")
def patch_list(request):
    return listing(
        request,
        rows=Patch.objects.filter(archived=False).prefetch_related("plants"),
        table_class=PatchTable,
        template="planner/patch_list.html",
        name="patches",
    )


@access(read="picker")
def patch_detail(request, pk):
    patch = get_object_or_404(Patch.objects.prefetch_related("plants"), pk=pk)
    rows = Pick.objects.filter(patch=patch, taken_back=False)
    years = rows.order_by().annotate(year=ExtractYear("day")).values("year")
    context = {
        "patch": patch,
        "years": years.annotate(net=Sum("net")).order_by("-year"),
        "picks": paged(request, PickTable(rows.select_related("plant", "by"))),
    }
    return render(request, "planner/patch_detail.html", context)


@access(read="maker", write="maker")
@sent_once
def patch_add(request):
    form = PatchForm(request.POST if request.method == "POST" else None, person=request.user)

    def act(form):
        return patches.add_patch(by=request.user, **form.values())

    cancel = reverse("planner:patch-list")
    return form_page(
        request, form=form, act=act, title="Add a patch", submit="Add it", cancel=cancel
    )


@access(read="maker", write="maker")
@sent_once
def patch_edit(request, pk):
    patch = get_object_or_404(Patch, pk=pk)
    return edit_page(request, instance=patch, form_class=EditPatchForm, save=patches.edit_patch)


def _of_plant(request, form_class, **page):
    """A form about a plant that the address may name, with its cautions first."""
    plant = Plant.objects.filter(slug=request.GET.get("plant", "")[:60]).first()
    wanted = {"plant": plant, "patch": request.GET.get("patch", "")[:12]}
    initial = {key: value for key, value in wanted.items() if value}
    form = form_class(*brought(request), person=request.user, initial=initial)
    cancel = plant.get_absolute_url() if plant else reverse("planner:season")
    template = "planner/plant_form.html"
    return form_page(request, form=form, plant=plant, cancel=cancel, template=template, **page)


@access(read="picker", write="picker")
@sent_once
def observation_add(request):
    def act(form):
        row = observations.observe(by=request.user, **form.cleaned_data)
        return row.plant

    page = {"title": "How is it today?", "submit": "That is how it is"}
    return _of_plant(request, ObservationForm, act=act, **page)


@access(read="picker", write="picker")
@sent_once
def pick_add(request):
    def act(form):
        names = ("plant", "patch", "on", "time", "confirmed", "over_cap", "note")
        typed = {name: form.cleaned_data[name] for name in names}
        return picks.weigh(by=request.user, weighings=form.weighings(), **typed)

    return _of_plant(request, PickForm, act=act, title="Weigh a pick", submit="Weigh it")


@access(read="picker")
def pick_list(request):
    """Every pick; with ?places=1 the file names the patches too."""
    with_places = request.GET.get("places") == "1"
    rows = Pick.objects.filter(taken_back=False).select_related("plant", "patch", "by")
    return listing(
        request,
        rows=rows,
        table_class=PatchPickTable if with_places else PickTable,
        template="planner/pick_list.html",
        name="picks",
        context={"with_places": with_places},
    )


@access(read="picker", write="picker")
@sent_once
def pick_detail(request, pk):
    """One pick: what it weighed, what is left of it, and the two things to do with it."""
    pick = get_object_or_404(Pick.objects.select_related("plant", "patch", "by"), pk=pk)
    asked = request.POST.get("do", "")
    sorting = SortForm(request.POST if asked == "sort" else None, person=request.user)
    giving = GiveForm(
        request.POST if asked == "give" else None,
        person=request.user,
        initial={"item": pick.plant.item_id},
    )
    done = {"sort": (sorting, picks.sort), "give": (giving, picks.give)}.get(asked)
    if done and done[0].is_valid() and _did(request, pick, *done):
        return redirect(pick)
    given = picks.given_of(pick)
    context = {
        "pick": pick,
        "given": given,
        "left": pick.usable - given,
        "lost": pick.net - pick.usable,
        "weighings": pick.weighings.all(),
        "shares": pick.shares.filter(taken_back=False).select_related("lot__item", "lot__place"),
        "sorting": sorting,
        "giving": giving,
    }
    return render(request, "planner/pick_detail.html", context, status=422 if done else 200)


def _did(request, pick, form, act):
    try:
        act(pick=pick, by=request.user, **form.cleaned_data)
    except Refusal as refusal:
        form.apply_refusal(refusal)
        return False
    say_done(request)
    return True


@access(read="picker")
def pick_in_hand(request, pk):
    """What a lot can become: every recipe that takes it, scaled to it."""
    lot = get_object_or_404(Lot.objects.with_on_hand().select_related("item"), pk=pk)
    spoken = reservations.spoken_for_of(lot)
    free = max(0, lot.on_hand - spoken)
    found = hand.ways(lot, amount=free, today=clock.today()) if free else []
    context = {"lot": lot, "free": free, "spoken": spoken, "ways": found}
    return render(request, "planner/pick_in_hand.html", context)
