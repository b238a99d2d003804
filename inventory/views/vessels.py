from django.shortcuts import get_object_or_404
from django.urls import reverse

from inventory import vessels
from inventory.access import access
from inventory.forms.base import HouseForm
from inventory.forms.vessels import LendVesselForm, VesselEditForm, VesselForm
from inventory.models import Vessel
from inventory.sent import sent_once
from inventory.tables.vessels import VesselTable
from inventory.views.editing import edit_page, form_page
from inventory.views.listing import listing


@access(read="guest")
def vessel_list(request):
    return listing(
        request,
        rows=Vessel.objects.all(),
        table_class=VesselTable,
        template="inventory/vessel_list.html",
        name="vessels",
    )


@access(read="maker", write="maker")
@sent_once
def vessel_add(request):
    typed = request.POST if request.method == "POST" else None

    def act(form):
        return vessels.add_vessel(by=request.user, **form.values())

    return form_page(
        request,
        form=VesselForm(typed, person=request.user),
        act=act,
        title="Add a vessel",
        submit="Add it",
        words="Weigh it empty, then brimful of water: a kilogram of water is a litre.",
        cancel=reverse("inventory:vessel-list"),
    )


@access(read="maker", write="maker")
@sent_once
def vessel_edit(request, pk):
    def save(vessel, **changed):
        return vessels.edit_vessel(vessel=vessel, **changed)

    return edit_page(
        request,
        instance=get_object_or_404(Vessel, pk=pk),
        form_class=VesselEditForm,
        save=save,
    )


def _vessel_page(request, pk, form_class, do, **page):
    vessel = get_object_or_404(Vessel, pk=pk)
    form = form_class(request.POST if request.method == "POST" else None, person=request.user)

    def act(form):
        do(vessel=vessel, by=request.user, **form.cleaned_data)
        return reverse("inventory:vessel-list")

    page["title"] = f"{vessel}: {page['title']}"
    return form_page(request, form=form, act=act, cancel=reverse("inventory:vessel-list"), **page)


@access(read="maker", write="maker")
@sent_once
def vessel_lend(request, pk):
    return _vessel_page(
        request, pk, LendVesselForm, vessels.lend, title="lend it", submit="It is lent"
    )


@access(read="maker", write="maker")
@sent_once
def vessel_return(request, pk):
    return _vessel_page(
        request, pk, HouseForm, vessels.take_back, title="is it back?", submit="It is back"
    )


@access(read="maker", write="maker")
@sent_once
def vessel_wash(request, pk):
    return _vessel_page(
        request, pk, HouseForm, vessels.wash, title="is it clean?", submit="It is washed"
    )
