from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect
from django.urls import reverse
from django.views.decorators.http import require_POST

from inventory import receipts
from inventory.access import access
from inventory.forms.amounts import OrderAsked
from inventory.forms.orders import ArriveForm, ExpectForm, MoveReceiptForm, ReceiptFilter
from inventory.models import Receipt
from inventory.refusals import Refusal
from inventory.sent import sent_once
from inventory.tables.orders import ReceiptTable
from inventory.views.editing import form_page
from inventory.views.listing import listing
from inventory.views.saying import say_done


@access(read="guest")
def receipt_list(request):
    return listing(
        request,
        filter_form=ReceiptFilter,
        rows=Receipt.objects.select_related("item"),
        table_class=ReceiptTable,
        template="inventory/receipt_list.html",
        name="on-its-way",
    )


@access(read="maker", write="maker")
@sent_once
def receipt_add(request):
    asked = OrderAsked(request.GET)
    item, initial = asked.found(), asked.initial_order()
    typed = request.POST if request.method == "POST" else None
    form = ExpectForm(typed, item=item, person=request.user, initial=initial if item else {})

    def act(form):
        receipt = receipts.expect(by=request.user, **form.values())
        return "inventory:shopping-list" if asked.from_shopping() else receipt

    page = {"title": f"{item} is on its way" if item else "Something is on its way"}
    page["cancel"] = item.get_absolute_url() if item else reverse("inventory:receipt-list")
    return form_page(request, form=form, act=act, submit="Expect it", **page)


def _receipt_page(request, pk, form_class, do, **page):
    """One page for what came and for another day, with a way to say that it will not come."""
    receipt = get_object_or_404(Receipt.objects.select_related("item"), pk=pk)
    typed = request.POST if request.method == "POST" else None
    form = form_class(typed, receipt=receipt, person=request.user)

    def act(form):
        return do(receipt, form)

    page |= {"receipt": receipt, "cancel": reverse("inventory:receipt-list")}
    return form_page(request, form=form, act=act, template="inventory/receipt_form.html", **page)


@access(read="maker", write="maker")
@sent_once
def receipt_arrive(request, pk):
    def do(receipt, form):
        return receipts.arrive(receipt=receipt, by=request.user, **form.values())

    return _receipt_page(request, pk, ArriveForm, do, title="It came", submit="Receive it")


@access(read="maker", write="maker")
@sent_once
def receipt_move(request, pk):
    def do(receipt, form):
        receipts.move(receipt=receipt, by=request.user, **form.values())
        return reverse("inventory:receipt-list")

    page = {"title": "It comes on another day", "submit": "Move it"}
    return _receipt_page(request, pk, MoveReceiptForm, do, **page)


@access(write="maker")
@require_POST
@sent_once
def receipt_cancel(request, pk):
    receipt = get_object_or_404(Receipt, pk=pk)
    try:
        receipts.cancel(receipt=receipt, by=request.user)
    except Refusal as refusal:
        messages.error(request, refusal.message)
    else:
        say_done(request)
    return redirect("inventory:receipt-list")
