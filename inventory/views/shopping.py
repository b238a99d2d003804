from django.shortcuts import render
from django.urls import reverse
from django.views.decorators.http import require_POST

from inventory import clock, exports, overview, shopping
from inventory.access import access
from inventory.forms.orders import ShoppingForm
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
            (shop, _with_forms(request, shop), overview.price_of(shop.lines)) for shop in shops
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
