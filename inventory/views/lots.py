from django.core.paginator import Paginator
from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from inventory import clock, conversions, ledger, overview, photos, used_parts
from inventory.access import access
from inventory.forms.amounts import ItemAsked
from inventory.forms.conversions import ConvertForm
from inventory.forms.files import PhotoForm
from inventory.forms.stock import (
    AdjustForm,
    CountForm,
    EditLotForm,
    LotFilter,
    ReceiveForm,
    ThrowOutForm,
    UseForm,
)
from inventory.models import Lot, Movement, Reservation
from inventory.sent import sent_once
from inventory.tables.lots import LotTable, MovementTable
from inventory.views.editing import brought, edit_page, form_page
from inventory.views.listing import listing


def first_expired_first(lots):
    """The order a lot has by itself is lost once its movements are summed up."""
    return lots.select_related("item", "place").order_by(*Lot._meta.ordering)


def paged(request, table):
    """A table beside others on a page: its pages turn by its own prefix."""
    table.request = request
    table.paginator = Paginator(table.rows, table._meta.per_page)
    table.page = table.paginator.get_page(request.GET.get(table.prefixed_page_field))
    return table


def moves_table(request, moves, **table):
    """The last movements first."""
    rows = moves.select_related("lot__item", "requirement", "by").order_by("-pk")
    return paged(request, MovementTable(rows, **table))


@access(read="guest")
def lot_list(request):
    return listing(
        request,
        filter_form=LotFilter,
        rows=first_expired_first(Lot.objects.with_on_hand()),
        table_class=LotTable,
        template="inventory/lot_list.html",
        name="lots",
    )


def _lot(pk):
    return get_object_or_404(Lot.objects.with_on_hand().select_related("item", "place"), pk=pk)


@access(read="guest")
def lot_detail(request, pk):
    lot = _lot(pk)
    promised = Reservation.objects.filter(lot=lot).select_related("requirement")
    keeps = overview.keeps_until(lot)
    context = {
        "lot": lot,
        "used": used_parts.words_of(lot),
        "strength_left": overview.strength_left(lot, clock.today()),
        "keeps_until": keeps,
        "past": bool(keeps and keeps < clock.today()),
        "photos": photos.of_rows([lot]).get(photos.about(lot)),
        "promised": promised.order_by("requirement__day", "pk"),
        "moves": moves_table(request, Movement.objects.filter(lot=lot), exclude=["lot"]),
    }
    return render(request, "inventory/lot_detail.html", context)


@access(read="maker", write="maker")
@sent_once
def lot_add(request):
    item = ItemAsked(request.GET).found()
    typed = request.POST if request.method == "POST" else None
    form = ReceiveForm(typed, item=item, person=request.user)

    def act(form):
        return ledger.receive(by=request.user, **form.values())

    page = {"title": f"Receive {item}" if item else "Receive"}
    page["cancel"] = item.get_absolute_url() if item else reverse("inventory:store")
    return form_page(request, form=form, act=act, submit="Receive it", **page)


@access(read="maker", write="maker")
@sent_once
def lot_edit(request, pk):
    def save(lot, **edit):
        return ledger.edit_lot(lot=lot, **edit)

    return edit_page(request, instance=_lot(pk), form_class=EditLotForm, save=save)


@access(read="maker", write="maker")
@sent_once
def lot_photo(request, pk):
    lot = _lot(pk)
    form = PhotoForm(*brought(request), person=request.user)

    def act(form):
        words = f"{lot.item}, lot {lot.mark}"
        photos.keep(data=form.cleaned_data["photo"], of=lot, words=words, by=request.user)
        return lot

    page = {"title": f"A picture of lot {lot.mark}", "submit": "Keep it"}
    return form_page(request, form=form, act=act, cancel=lot.get_absolute_url(), **page)


def _lot_page(request, pk, form_class, do, **page):
    """One page for using, counting, adjusting and throwing out: what is there, and the form."""
    lot = _lot(pk)
    typed = request.POST if request.method == "POST" else None
    form = form_class(typed, lot=lot, person=request.user)

    def act(form):
        do(lot, form)
        return lot

    page |= {"lot": lot, "cancel": lot.get_absolute_url(), "template": "inventory/lot_form.html"}
    return form_page(request, form=form, act=act, **page)


@access(read="maker", write="maker")
@sent_once
def lot_use(request, pk):
    def do(lot, form):
        ledger.issue(lot=lot, by=request.user, **form.values())

    return _lot_page(request, pk, UseForm, do, title="Use", submit="Use it")


@access(read="maker", write="maker")
@sent_once
def lot_count(request, pk):
    def do(lot, form):
        ledger.count(lot=lot, by=request.user, **form.values())

    return _lot_page(request, pk, CountForm, do, title="Count", submit="That is what is there")


@access(read="maker", write="maker")
@sent_once
def lot_adjust(request, pk):
    def do(lot, form):
        values = form.values()
        on, reason = values["on"], values["reason"]
        ledger.adjust(lot=lot, quantity=form.signed(), on=on, reason=reason, by=request.user)

    return _lot_page(request, pk, AdjustForm, do, title="Put right", submit="Put it right")


@access(read="maker", write="maker")
@sent_once
def lot_convert(request, pk):
    """Part of it becomes a lot of its own."""
    lot = _lot(pk)
    typed = request.POST if request.method == "POST" else None
    form = ConvertForm(typed, lot=lot, person=request.user)

    def act(form):
        return conversions.convert(lot=lot, by=request.user, **form.values())

    page = {"title": "Freeze, dry, steep or split", "submit": "It is done", "lot": lot}
    page |= {"cancel": lot.get_absolute_url(), "template": "inventory/lot_form.html"}
    return form_page(request, form=form, act=act, **page)


@access(read="maker", write="maker")
@sent_once
def lot_throw(request, pk):
    def do(lot, form):
        ledger.throw_out(lot=lot, by=request.user, **form.values())

    page = {"title": "Throw out", "submit": "Throw it out", "tone": "stop"}
    return _lot_page(request, pk, ThrowOutForm, do, **page)
