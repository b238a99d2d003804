from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from inventory import requirements
from inventory.access import access
from inventory.forms.amounts import ItemAsked
from inventory.forms.orders import MoveNeedForm, NeedForm
from inventory.models import Requirement
from inventory.refusals import Refusal
from inventory.sent import sent_once
from inventory.views.editing import form_page
from inventory.views.saying import say_done


@access(read="maker", write="maker")
@sent_once
def requirement_add(request):
    item = ItemAsked(request.GET).found()
    typed = request.POST if request.method == "POST" else None
    form = NeedForm(typed, item=item, person=request.user)

    def act(form):
        return requirements.need(by=request.user, **form.values())

    page = {"title": f"{item} will be needed" if item else "Something will be needed"}
    page["cancel"] = item.get_absolute_url() if item else reverse("inventory:store")
    return form_page(request, form=form, act=act, submit="Note it", **page)


@access(read="maker", write="maker")
@sent_once
def requirement_move(request, pk):
    """Another day for what was typed by hand: the needs of a batch move with its steps."""
    typed_by_hand = Requirement.objects.filter(origin="", state=Requirement.State.OPEN)
    need = get_object_or_404(typed_by_hand.select_related("item"), pk=pk)
    typed = request.POST if request.method == "POST" else None
    form = MoveNeedForm(typed, person=request.user, initial={"day": need.day})

    def act(form):
        day = form.cleaned_data["day"]
        if not requirements.move(moves={need.pk: day}, by=request.user):
            raise Refusal("It is needed on that day already.", field="day")
        return need.item

    page = {"title": f"Another day: {need.label}", "cancel": need.item.get_absolute_url()}
    return form_page(request, form=form, act=act, submit="Move it", **page)


@access(write="maker")
@require_POST
@sent_once
def requirement_withdraw(request, pk):
    """Only what was typed by hand: the needs of a batch go with the batch."""
    typed_by_hand = Requirement.objects.filter(origin="").select_related("item")
    requirement = get_object_or_404(typed_by_hand, pk=pk)
    try:
        requirements.withdraw(requirements=[requirement], by=request.user)
    except Refusal as refusal:
        messages.error(request, refusal.message)
    else:
        say_done(request)
    return redirect(requirement.item)
