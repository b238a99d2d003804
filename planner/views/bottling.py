from django.shortcuts import get_object_or_404, redirect, render

from inventory import clock, shown
from inventory.access import access
from inventory.models import BottleType, Item
from inventory.models.items import Kind
from inventory.refusals import Refusal
from inventory.sent import sent_once
from inventory.views.saying import say_done
from planner import book as books
from planner import bottling, bottling_plan, fizz, pressure_picture, step_gates, volumes
from planner.forms.bottling import FIZZ, STILL, DoneForm, WishForm
from planner.models import Batch

UL_PER_ML = 1000


@access(read="maker", write="maker")
@sent_once
def batch_bottle(request, pk):
    """Bottling day: the wish by GET, the plan beside it, and what was filled by POST."""
    batch = get_object_or_404(Batch.objects.select_related("recipe_version__recipe"), pk=pk)
    book = books.of_batch(batch)
    step = bottling.filling_step(batch)
    form = WishForm(request.GET or None, person=request.user, initial=_first_wish(batch, book))
    context = {
        "batch": batch,
        "step": step,
        "form": form,
        "volume": volumes.of_batch(batch),
        "query": request.GET.urlencode(),
    }
    wish, plan = _planned(batch, book, form)
    fizzy = wish.is_fizzy if wish else step_gates.is_meant_for_fizz(batch)
    context["verdicts"] = step_gates.before_glass(
        batch, step, book=book, is_fizzy=fizzy, is_reckoned=True
    )
    status = 422 if form.errors else 200
    if plan:
        typed = request.POST if request.method == "POST" else None
        done = DoneForm(typed, person=request.user, plan=plan, is_fizzy=wish.is_fizzy)
        if done.is_bound and done.is_valid() and _bottled(request, batch, wish, done):
            return redirect(f"{batch.get_absolute_url()}#bottles")
        status = 422 if done.errors else status
        context |= {"plan": plan, "wish": wish, "done": done} | _beside(request, plan, wish)
    return render(request, "planner/batch_bottle.html", context, status=status)


def _planned(batch, book, form):
    """The wish and its plan; nothing while nothing was asked, or where it cannot be had."""
    if not (form.is_bound and form.is_valid()):
        return None, None
    sizes = BottleType.objects.values_list("item", "nominal")
    wish = form.wish({item: nominal // UL_PER_ML for item, nominal in sizes})
    if form.errors:
        return wish, None
    try:
        return wish, bottling_plan.plan(batch, book, wish)
    except Refusal as refusal:
        form.apply_refusal(refusal)
        return wish, None


def _bottled(request, batch, wish, form):
    try:
        bottling.bottle(
            batch=batch,
            wish=wish,
            done=form.done(),
            on=form.cleaned_data["on"],
            by=request.user,
        )
    except Refusal as refusal:
        form.apply_refusal(refusal)
        return False
    say_done(request)
    return True


def _first_wish(batch, book):
    """What the house knows already, to begin with."""
    strength = book.strength.value
    return {
        "closing": FIZZ if step_gates.is_meant_for_fizz(batch) else STILL,
        "abv": None if strength is None else f"{strength:.1f}",
        "lower": True,
        "kind": "sucrose",
    }


def _beside(request, plan, wish):
    """What stands beside the plan: pressures drawn, and by when missing parts must be ordered."""
    items = [item for item, _, _ in plan.lacks]
    days = bottling_plan.order_by(items, day=clock.today())
    picture = pressure_picture.pressure_picture(plan, wish) if wish.is_fizzy else None
    spoon = _spoon() if wish.is_fizzy else None
    return {
        "spoon": spoon,
        "spooned": _spooned(plan, wish, spoon) if spoon else [],
        "lacks": [(item, wanted - held, days[item.pk]) for item, held, wanted in plan.lacks],
        "picture": picture,
        "preference": shown.preference(request),
        "tools": sorted({line.tool for line in plan.lines if line.tool and line.count}),
    }


def _spoon():
    """What a teaspoon of this house's sugar weighs, in grams; none where nobody weighed one."""
    rows = Item.objects.filter(kind=Kind.INGREDIENT, name__icontains="sugar", archived=False)
    weight = rows.exclude(teaspoon=None).order_by("pk").values_list("teaspoon", flat=True).first()
    return weight / 1000 if weight else None


def _spooned(plan, wish, spoon):
    """For each kind of bottle the fizz that one spoon would give."""
    return [
        (
            line.item,
            fizz.spooned_volumes(
                plan.wine, fill_l=line.kind.nominal / 1e6, spoon_g=spoon, kind=wish.kind
            ),
        )
        for line in plan.lines
    ]
