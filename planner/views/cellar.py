from django.shortcuts import get_object_or_404, render

from inventory import cellar, clock, photos
from inventory.access import access
from inventory.forms.files import PhotoForm
from inventory.models import Activity, CellarLot
from inventory.sent import sent_once
from inventory.views.editing import brought, form_page
from inventory.views.labels import label_page
from inventory.views.listing import listing
from planner import cellar_view, decanting, drinks_of, pressure_picture, tastings
from planner.forms.cellar import CellarFilter, DecantForm, MoveBottlesForm, TakeForm, TastingForm
from planner.models import Batch
from planner.tables.cellar import CellarTable


@access(read="guest")
def cellar_list(request):
    """Everything that lies down, what to open first on top, hazards above it."""
    found = cellar_view.held(today=clock.today())
    first = [
        one for one in found if one.word in (cellar_view.PAST, cellar_view.SOON, cellar_view.READY)
    ]
    context = {
        "found": found,
        "hazards": [one for held in found for one in held.hazards],
        "flagged": [held for held in found if held.lot.flagged],
        "first": first[:5],
        "bottles": sum(held.left for held in found),
        "lasts": _lasts(request.house, sum(held.left for held in found)),
    }
    return listing(
        request,
        filter_form=CellarFilter,
        rows=found,
        table_class=CellarTable,
        template="planner/cellar_list.html",
        name="cellar",
        context=context,
    )


def _lasts(house, bottles):
    """Whole months that it lasts at the house's rate; none where no rate is said."""
    return bottles // house.drunk_a_month if house.drunk_a_month else None


def _held(pk):
    rows = CellarLot.objects.select_related("item__bottle_type", "closure__closure_type", "cage")
    lot = get_object_or_404(rows, pk=pk)
    found = cellar_view.held(today=clock.today(), lots=[lot])
    return lot, found[0] if found else cellar_view.Held(lot, [], clock.today())


@access(read="guest")
def cellar_lot(request, pk):
    lot, held = _held(pk)
    picture = None
    if lot.is_fizzy and lot.co2 is not None:
        warmest = max((one.warm_c for one in held.lying), default=None)
        picture = pressure_picture.of_glass(
            f"Pressure in {lot.item}",
            cellar_view.glass_of_lot(lot),
            cellar_view.wine_of_lot(lot),
            lot.co2 / cellar_view.MG_PER_G,
            warmest_c=warmest,
        )
    context = {
        "lot": lot,
        "held": held,
        "picture": picture,
        "facts": drinks_of.facts(lot, request.house.country),
        "photos": photos.of_rows([lot]).get(photos.about(lot)),
        "lines": lot.lines.select_related("place", "by").order_by("-pk")[:50],
        "activities": Activity.objects.filter(link=lot.get_absolute_url()).select_related("by")[:5],
        "batch": batch_of(lot),
    }
    return render(request, "planner/cellar_lot.html", context)


def batch_of(lot):
    """The batch that its origin names; none where it is not there."""
    _, _, key = lot.origin.partition("batch:")
    return Batch.objects.filter(pk=key).first() if key.isdigit() else None


def _form(request, lot, form, act, **page):
    return form_page(request, form=form, act=act, cancel=lot.get_absolute_url(), **page)


@access(read="maker", write="maker")
@sent_once
def cellar_take(request, pk):
    lot, held = _held(pk)
    typed = request.POST if request.method == "POST" else None
    form = TakeForm(
        typed, held=held, person=request.user, initial={"fate": request.GET.get("fate", "")[:8]}
    )

    def act(form):
        values = form.values()
        values.pop("where")
        cellar.take(lot=lot, by=request.user, place=form.place(), **values)
        return lot

    words = "Open it cold, with a towel over it, away from faces." if lot.is_fizzy else ""
    page = {"title": f"What happened to {lot}", "submit": "Write it down", "words": words}
    return _form(request, lot, form, act, **page)


@access(read="maker", write="maker")
@sent_once
def cellar_move(request, pk):
    lot, held = _held(pk)
    form = MoveBottlesForm(
        request.POST if request.method == "POST" else None, held=held, person=request.user
    )

    def act(form):
        values = form.values()
        cellar.move(
            lot=lot,
            count=values["count"],
            source=form.place(),
            target=values["target"],
            on=values["on"],
            by=request.user,
        )
        return lot

    return _form(request, lot, form, act, title=f"Move {lot}", submit="Move them")


@access(read="maker", write="maker")
@sent_once
def cellar_taste(request, pk):
    lot, _ = _held(pk)
    batch = get_object_or_404(
        Batch.objects.select_related("recipe_version"), pk=getattr(batch_of(lot), "pk", None)
    )
    form = TastingForm(
        request.POST if request.method == "POST" else None,
        person=request.user,
        wishes=tastings.wishes_of(batch),
    )

    def act(form):
        tastings.taste(batch=batch, lot=lot, by=request.user, **form.values())
        return lot

    return _form(request, lot, form, act, title=f"How was {lot}?", submit="That is how it was")


@access(read="maker")
def cellar_labels(request, pk):
    """Labels for the bottles of a lot; what they warn of stands on each."""
    lot, held = _held(pk)
    pictures = photos.of_rows([lot]).get(photos.about(lot))
    initial = {"name": lot.name, "text": drinks_of.label_text(lot), "count": held.left or 1}
    return label_page(
        request,
        subject=lot,
        initial=initial,
        warnings=lot.warnings,
        picture=photos.path_of(pictures[-1]) if pictures else None,
    )


@access(read="maker", write="maker")
@sent_once
def cellar_photo(request, pk):
    """A picture of its own, which also stands on its labels."""
    lot, _ = _held(pk)
    form = PhotoForm(*brought(request), person=request.user)

    def act(form):
        photos.keep(data=form.cleaned_data["photo"], of=lot, words=str(lot), by=request.user)
        return lot

    return _form(request, lot, form, act, title=f"A picture for {lot}", submit="Keep it")


@access(read="maker", write="maker")
@sent_once
def cellar_decant(request, pk):
    lot, held = _held(pk)
    form = DecantForm(
        request.POST if request.method == "POST" else None, held=held, person=request.user
    )

    def act(form):
        values = form.values()
        values.pop("where")
        return decanting.decant(lot=lot, place=form.place(), by=request.user, **values)

    words = (
        "Pouring a bottle with fizz loses gas and may gush: cold, with goggles on. The pressure is "
        "reckoned as if all of its sugar were still to work."
    )
    page = {"title": f"Pour {lot} over", "submit": "They are poured over"}
    return _form(request, lot, form, act, words=words if lot.is_fizzy else "", **page)
