from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from inventory import clock, glass, loans, packaging
from inventory.access import access
from inventory.forms.glass import (
    BottleTypeForm,
    CageTypeForm,
    ClosureTypeForm,
    DrinkingForm,
    EditBottleTypeForm,
    EditCageTypeForm,
    EditClosureTypeForm,
    GiveBackForm,
    LendForm,
    MoveGlassForm,
    WashForm,
)
from inventory.models import BottleType, CageType, ClosureType, Item, Loan
from inventory.models.items import Kind
from inventory.sent import sent_once
from inventory.tables.glass import CageTable, ClosureTable, GlassTable, LoanTable, MonthsTable
from inventory.views.editing import edit_page, form_page
from inventory.views.lots import paged

MONTHS_AHEAD = 12
DESCRIBED_BY = {
    Kind.BOTTLE: (BottleType, BottleTypeForm, EditBottleTypeForm),
    Kind.CLOSURE: (ClosureType, ClosureTypeForm, EditClosureTypeForm),
    Kind.CAGE: (CageType, CageTypeForm, EditCageTypeForm),
}


@access(read="guest")
def glass_list(request):
    """Bottles by state, what shuts them, the sets they make now and ahead, and who has some."""
    house, drinking = (
        packaging.glass_of_the_house(),
        DrinkingForm(
            request.GET if "drunk" in request.GET else {"drunk": request.house.drunk_a_month}
        ),
    )
    months = packaging.months_ahead(
        house, today=clock.today(), months=MONTHS_AHEAD, drunk=drinking.rate()
    )
    described = [line for line in house.bottles if line.kind]
    context = {
        "bottles": paged(request, GlassTable(house.bottles, prefix="bottles-")),
        "closures": paged(request, ClosureTable(house.closures)),
        "cages": paged(request, CageTable(house.cages)),
        "months": paged(request, MonthsTable.of(months if described else [], described)),
        "loans": paged(request, LoanTable(packaging.loans_out())),
        "drinking": drinking,
        "nothing_yet": not (house.bottles or house.closures or house.cages),
    }
    wrong = drinking.is_bound and not drinking.is_valid()
    return render(request, "inventory/glass_list.html", context, status=422 if wrong else 200)


@access(read="maker", write="maker")
@sent_once
def glass_describe(request, pk):
    """Say what a bottle, closure or cage is, or change what was said."""
    item = get_object_or_404(Item, pk=pk, kind__in=DESCRIBED_BY)
    model, form_class, edit_class = DESCRIBED_BY[item.kind]
    row = model.objects.filter(item=item).select_related("item").first()
    goal = reverse("inventory:glass-list")
    if row:
        return edit_page(
            request, instance=row, form_class=edit_class, save=glass.edit_description, goal=goal
        )

    def act(form):
        glass.describe(item=item, model=model, by=request.user, **form.values())
        return goal

    typed = request.POST if request.method == "POST" else None
    form = form_class(typed, person=request.user)
    return form_page(
        request, form=form, act=act, title=f"{item}: what it is", submit="Keep it", cancel=goal
    )


def _bottle_page(request, pk, form_class, do, **page):
    """One page for what happens to bottles: how many are where, and the form."""
    item = get_object_or_404(Item, pk=pk, kind=Kind.BOTTLE)
    form = form_class(request.POST if request.method == "POST" else None, person=request.user)

    def act(form):
        do(item, form)
        return reverse("inventory:glass-list")

    counts = glass.counts([item.pk])[item.pk]
    words = ", ".join(f"{count} {state}" for state, count in counts.items())
    page |= {"words": f"There are {words}.", "cancel": reverse("inventory:glass-list")}
    page["title"] = f"{item}: {page['title']}"
    return form_page(request, form=form, act=act, **page)


@access(read="maker", write="maker")
@sent_once
def glass_move(request, pk):
    def do(item, form):
        glass.move(item=item, by=request.user, **form.values())

    return _bottle_page(request, pk, MoveGlassForm, do, title="what happened", submit="Note it")


@access(read="maker", write="maker")
@sent_once
def glass_lend(request, pk):
    def do(item, form):
        loans.lend(item=item, by=request.user, **form.values())

    return _bottle_page(request, pk, LendForm, do, title="lend some", submit="Lend them")


@access(read="maker", write="maker")
@sent_once
def loan_return(request, pk):
    loan = get_object_or_404(Loan.objects.select_related("item"), pk=pk)
    typed = request.POST if request.method == "POST" else None
    form = GiveBackForm(typed, person=request.user, initial={"count": loan.out})

    def act(form):
        loans.give_back(loan=loan, by=request.user, **form.values())
        return reverse("inventory:glass-list")

    return form_page(
        request,
        form=form,
        act=act,
        title=f"{loan.to} gives back",
        submit="They are back",
        words=f"{loan.out} {loan.item} are still out.",
        cancel=reverse("inventory:glass-list"),
    )


@access(read="maker", write="maker")
@sent_once
def glass_wash(request):
    """All that is dirty on one page: what was washed is clean, in one go."""
    house = packaging.glass_of_the_house()
    dirty = [(line.item, line.counts["dirty"]) for line in house.bottles if line.counts["dirty"]]
    typed = request.POST if request.method == "POST" else None
    form = WashForm(typed, dirty=dirty, person=request.user)
    goal = reverse("inventory:glass-list")

    def act(form):
        values = form.cleaned_data
        glass.wash_all(
            counts=form.counts(), on=values["on"], by=request.user, place=values["place"]
        )
        return goal

    words = "" if dirty else "No bottle is dirty."
    page = {"title": "Wash the dirty ones", "submit": "They are washed", "words": words}
    return form_page(request, form=form, act=act, cancel=goal, **page)
