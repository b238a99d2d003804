from django.shortcuts import render
from django.urls import reverse
from django.utils.text import slugify
from django.views.decorators.http import require_POST

from inventory import clock, exports, overview, shopping
from inventory.access import access
from inventory.forms.orders import OrderForm, ShoppingForm
from inventory.forms.shortfalls import HorizonFilter
from inventory.sent import sent_once
from inventory.tables.shortfalls import ShoppingTable
from inventory.views.editing import form_page


@access(read="guest")
def shopping_list(request):
    form, today = HorizonFilter(request.GET), clock.today()
    horizon = form.horizon(today) if form.is_valid() else None
    shops = shopping.shopping_list(today=today, horizon=horizon)
    if request.GET.get("format") == "csv" and form.is_valid():
        lines = [line for shop in shops for line in shop.lines]
        return exports.csv_response(ShoppingTable(lines), "shopping")
    context = {
        "filter": form,
        "today": today,
        "shops": [
            (
                shop,
                _with_forms(request, shop),
                overview.price_of(shop.lines),
                _order_form(request, shop),
            )
            for shop in shops
        ],
    }
    return render(
        request, "inventory/shopping_list.html", context, status=200 if form.is_valid() else 422
    )


def _with_forms(request, shop):
    """Each line with a form that receives it; no query more, the item is known."""
    return [
        (
            line,
            ShoppingForm(
                item=line.item,
                person=request.user,
                initial={"quantity": line.quantity},
                auto_id=f"line-{line.item.pk}-{line.arrive_day}-%s",
            ),
        )
        for line in shop.lines
    ]


def _order_form(request, shop):
    due = max(line.arrive_day for line in shop.lines)
    wanted = {"shop": shop.name, "due": max(due, clock.today())}
    return OrderForm(initial=wanted, person=request.user, auto_id=f"order-{slugify(shop.name)}-%s")


@access(write="maker")
@require_POST
@sent_once
def shopping_receive(request):
    def act(form):
        shopping.tick(by=request.user, **form.values())
        return "inventory:shopping-list"

    return form_page(
        request,
        form=ShoppingForm(request.POST, person=request.user),
        act=act,
        title="It is in the house",
        submit="Receive it",
        cancel=reverse("inventory:shopping-list"),
    )


@access(write="maker")
@require_POST
@sent_once
def shopping_order(request):
    def act(form):
        values = form.cleaned_data
        shopping.order(shop=values["shop"], due=values["due"], today=clock.today(), by=request.user)
        return "inventory:shopping-list"

    return form_page(
        request,
        form=OrderForm(request.POST, person=request.user),
        act=act,
        title="It is all ordered",
        submit="It is ordered",
        cancel=reverse("inventory:shopping-list"),
    )
