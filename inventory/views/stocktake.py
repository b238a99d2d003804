from django.db.models import Q
from django.urls import reverse

from inventory import stocktake
from inventory.access import access
from inventory.forms.stocktake import ShelfForm, StocktakeForm
from inventory.models import Lot
from inventory.sent import sent_once
from inventory.views.editing import form_page
from inventory.views.lots import first_expired_first


@access(read="maker", write="maker")
@sent_once
def stocktake_add(request):
    """Count what stands on a shelf, lot by lot on one page."""
    shelf = ShelfForm(request.GET)
    typed = request.POST if request.method == "POST" else None
    # What was used up while somebody counted keeps its box, so that nothing typed is lost.
    shown = Q(on_hand__gt=0) | Q(pk__in=_typed_keys(typed or {}))
    lots = first_expired_first(shelf.narrow(Lot.objects.with_on_hand().filter(shown)))
    found = list(lots[: stocktake.MOST_LINES])
    form = StocktakeForm(typed, lots=found, person=request.user)

    def act(form):
        about = {name: form.cleaned_data[name] for name in ("on", "reason")}
        stocktake.count_all(counted=form.counted(), by=request.user, **about)
        return "inventory:lot-list"

    return form_page(
        request,
        form=form,
        act=act,
        title="Count a shelf",
        submit="That is what is there",
        template="inventory/stocktake.html",
        cancel=reverse("inventory:lot-list"),
        shelf=shelf,
    )


def _typed_keys(typed):
    keys = [name.removeprefix("lot_") for name, text in typed.items() if text.strip()]
    known = [key for key in keys if key.isascii() and key.isdigit() and len(key) < 18]
    return known[: stocktake.MOST_LINES]
