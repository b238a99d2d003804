from django.shortcuts import get_object_or_404
from django.urls import reverse

from inventory import places
from inventory.access import access
from inventory.forms.places import PlaceEditForm, PlaceForm
from inventory.models import StoragePlace
from inventory.sent import sent_once
from inventory.tables.places import PlaceTable
from inventory.views.editing import edit_page, form_page
from inventory.views.listing import listing


@access(read="guest")
def place_list(request):
    return listing(
        request,
        rows=StoragePlace.objects.all(),
        table_class=PlaceTable,
        template="inventory/place_list.html",
        name="places",
    )


@access(read="maker", write="maker")
@sent_once
def place_add(request):
    typed = request.POST if request.method == "POST" else None

    def act(form):
        return places.add_place(by=request.user, **form.values())

    return form_page(
        request,
        form=PlaceForm(typed, person=request.user),
        act=act,
        title="Add a storage place",
        submit="Add it",
        cancel=reverse("inventory:place-list"),
    )


@access(read="maker", write="maker")
@sent_once
def place_edit(request, pk):
    def save(place, **changed):
        return places.edit_place(place=place, **changed)

    return edit_page(
        request,
        instance=get_object_or_404(StoragePlace, pk=pk),
        form_class=PlaceEditForm,
        save=save,
    )
