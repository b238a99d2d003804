from django.shortcuts import get_object_or_404
from django.urls import reverse

from inventory import vessels
from inventory.access import access
from inventory.forms.vessels import VesselEditForm, VesselForm
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
