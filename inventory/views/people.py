from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from inventory import household
from inventory.access import access
from inventory.forms.people import AccessForm, OwnPassword, PersonForm
from inventory.models import Person
from inventory.refusals import Refusal
from inventory.sent import sent_once
from inventory.views.editing import form_page
from inventory.views.signing import asks_password, password_fits, site_address


@access(read="keeper", write="keeper")
@sent_once
def person_add(request):
    typed = request.POST if request.method == "POST" else None

    def act(form):
        person = household.add_person(
            password=None, units=request.house.units, by=request.user, **form.values()
        )
        return reverse("inventory:invitation", args=[person.pk])

    return form_page(
        request,
        form=PersonForm(typed, initial={"role": "picker"}, person=request.user),
        act=act,
        title="Add a person",
        submit="Add them",
        words="Next you get a one-time link for them, with which they choose their own password.",
        cancel=reverse("inventory:household"),
    )


@access(read="keeper", write="keeper")
@asks_password
@sent_once
def person_edit(request, pk):
    person = get_object_or_404(Person, pk=pk)
    typed = request.POST if request.method == "POST" else None
    initial = {"role": household.role_of(person) or "guest", "active": person.is_active}
    form = AccessForm(typed, initial=initial, person=request.user, fits=password_fits(request))

    def act(form):
        household.change_access(person=person, by=request.user, **form.values())
        return reverse("inventory:household")

    return form_page(
        request,
        form=form,
        act=act,
        title=f"What {person} may do",
        cancel=reverse("inventory:household"),
    )


@access(read="keeper", write="keeper")
@asks_password
@sent_once
def invitation(request, pk):
    """Asks for the keeper's password, then shows the link, this once."""
    person = get_object_or_404(Person, pk=pk)
    typed = request.POST if request.method == "POST" else None
    form = OwnPassword(typed, person=request.user, fits=password_fits(request))
    context = {"form": form, "invited": person}
    if typed is not None and form.is_valid():
        try:
            path = household.invite(person=person, by=request.user)
        except Refusal as refusal:
            form.apply_refusal(refusal)
        else:
            context["link"] = site_address(path)
    status = 422 if form.errors else 200
    response = render(request, "inventory/person_invitation.html", context, status=status)
    response["Cache-Control"] = "no-store"
    return response
