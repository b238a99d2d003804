from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST

from inventory import clock, items, overview, shown, substitutes
from inventory.access import access
from inventory.forms.items import EditItemForm, ItemForm, StoreFilter, SubstituteForm
from inventory.models import Item, Lot, Movement, Receipt, Requirement, Substitute
from inventory.refusals import Refusal
from inventory.sent import sent_once
from inventory.stock_picture import stock_picture
from inventory.tables.items import OutlookTable, StoreTable
from inventory.tables.lots import ItemLotTable
from inventory.views.editing import edit_page, form_page
from inventory.views.listing import listing
from inventory.views.lots import first_expired_first, moves_table, paged
from inventory.views.saying import say_done


@access(read="guest")
def store(request):
    lines = overview.store_lines(today=clock.today())
    return listing(
        request,
        filter_form=StoreFilter,
        rows=lines,
        table_class=StoreTable,
        template="inventory/store.html",
        name="store",
        context={"nothing_yet": not lines},
    )


@access(read="guest")
def item_detail(request, pk):
    item, today = get_object_or_404(Item, pk=pk), clock.today()
    needs = Requirement.objects.filter(item=item, state=Requirement.State.OPEN)
    needs = needs.prefetch_related("reservations__lot")
    expected = Receipt.objects.filter(item=item, state=Receipt.State.EXPECTED)
    by_hand = [need for need in needs if not need.origin]
    lots = list(first_expired_first(Lot.objects.in_stock().filter(item=item)))
    past = overview.past_their_date(lots, today)
    rows = overview.outlook_rows(item=item, today=today, needs=needs, expected=expected)
    context = {
        "item": item,
        "today": today,
        "line": overview.store_lines(today=today, items=[pk])[0],
        "days": paged(request, OutlookTable(rows)),
        "picture": _picture(request, item, rows),
        "lots": paged(request, ItemLotTable(lots)),
        "first": next((lot for lot in lots if lot not in past), None),
        "substitutes": substitutes.of_item(item),
        "prices": overview.prices_of(item),
        "expected": expected,
        "needs": by_hand,
        "moves": moves_table(request, Movement.objects.filter(lot__item=item)),
    }
    return render(request, "inventory/item_detail.html", context)


def _picture(request, item, rows):
    """None of an item that is neither there nor wanted."""
    days = [row.row for row in rows]
    if not any(day.on_hand or day.needed or day.short for day in days):
        return None
    return stock_picture(
        item=item, days=days, today=clock.today(), preference=shown.preference(request)
    )


@access(read="maker", write="maker")
@sent_once
def item_add(request):
    typed = request.POST if request.method == "POST" else None

    def act(form):
        return items.add_item(by=request.user, **form.values())

    return form_page(
        request,
        form=ItemForm(typed, person=request.user),
        act=act,
        title="Add an item",
        submit="Add it",
        template="inventory/item_form.html",
        cancel=reverse("inventory:store"),
    )


@access(read="maker", write="maker")
@sent_once
def item_edit(request, pk):
    item = get_object_or_404(Item, pk=pk)

    def save(item, **edit):
        return items.edit_item(item=item, **edit)

    return edit_page(
        request,
        instance=item,
        form_class=EditItemForm,
        save=save,
        template="inventory/item_form.html",
        item=item,
    )


@access(write="maker")
@require_POST
@sent_once
def item_archive(request, pk):
    """Out of sight, or back again."""
    item = get_object_or_404(Item, pk=pk)
    change = items.restore_item if item.archived else items.archive_item
    try:
        change(item=item, by=request.user)
    except Refusal as refusal:
        messages.error(request, refusal.message)
    else:
        say_done(request)
    return redirect(item)


@access(read="maker", write="maker")
@sent_once
def substitute_add(request, pk):
    item = get_object_or_404(Item, pk=pk)
    form = SubstituteForm(
        request.POST if request.method == "POST" else None, item=item, person=request.user
    )

    def act(form):
        substitutes.name(item=item, by=request.user, **form.values())
        return item

    page = {"title": f"Instead of {item}", "submit": "It may stand in"}
    return form_page(request, form=form, act=act, cancel=item.get_absolute_url(), **page)


@access(write="maker")
@require_POST
@sent_once
def substitute_remove(request, pk):
    row = get_object_or_404(Substitute.objects.select_related("item", "other"), pk=pk)
    item = row.item
    substitutes.remove(substitute=row, by=request.user)
    say_done(request)
    return redirect(item)
