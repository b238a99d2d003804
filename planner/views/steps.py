from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from inventory import clock
from inventory.access import access
from inventory.models import Requirement, Substitute
from inventory.sent import sent_once
from inventory.views.editing import brought, form_page
from inventory.views.saying import say_done
from planner import instead, moves, outlook, steps
from planner.forms.steps import CompleteStepForm, MoveStepForm, SkipStepForm
from planner.models import Batch, Step
from planner.progress import brings_to

IN_GLASS = Batch.State.IN_GLASS


def _step(pk):
    return get_object_or_404(
        Step.objects.select_related("batch__recipe_version__recipe", "template"), pk=pk
    )


def _step_page(request, step, form_class, act, asks=None, **page):
    """One form about a step; `act` is told the step, the person and what was typed."""

    def do(form):
        act(step=step, by=request.user, **form.values())
        return "planner:today" if request.POST.get("back") == "today" else step

    return form_page(
        request,
        form=form_class(*brought(request), step=step, person=request.user, **(asks or {})),
        act=do,
        template="planner/step_form.html",
        step=step,
        **page,
    )


@access(read="maker", write="maker")
@sent_once
def step_move(request, pk):
    step = _step(pk)
    words = {"title": "Move", "submit": "Move it"}
    followers = outlook.followers(step)
    return _step_page(request, step, MoveStepForm, moves.move_step, followers=followers, **words)


@access(read="maker", write="maker")
@sent_once
def step_complete(request, pk):
    step = _step(pk)
    words = {"title": "Done", "submit": "It is done"}
    kinds = outlook.kinds_of(step)
    if request.method == "GET" and step.is_open and brings_to(step.title, kinds) == IN_GLASS:
        return redirect("planner:batch-bottle", step.batch_id)
    verdicts = outlook.verdicts_of(step, kinds=kinds, on=clock.today())
    uses = outlook.uses_of(step, today=clock.today())
    page = {
        "uses": uses,
        "offers": instead.offers(step),
        "verdicts": verdicts,
        "batch": step.batch,
        **words,
    }
    asks = {"kinds": kinds, "verdicts": verdicts}
    return _step_page(request, step, CompleteStepForm, steps.complete_step, asks, **page)


@access(read="maker", write="maker")
@sent_once
def step_skip(request, pk):
    words = {"title": "Skip", "submit": "Skip it"}
    return _step_page(request, _step(pk), SkipStepForm, steps.skip_step, **words)


@access(write="maker")
@require_POST
@sent_once
def step_pin(request, pk):
    step = _step(pk)
    pin = moves.unpin if step.pinned else moves.pin
    pin(step=step, by=request.user)
    say_done(request)
    return redirect(step)


@access(write="maker")
@require_POST
@sent_once
def need_instead(request, pk):
    """Take a substitute for what a step needs; which one stands in the form."""
    need = get_object_or_404(Requirement.objects.select_related("item"), pk=pk)
    asked = request.POST.get("substitute", "")
    key = int(asked) if asked.isascii() and asked.isdigit() and len(asked) < 18 else 0
    row = get_object_or_404(Substitute.objects.select_related("other"), pk=key)
    instead.swap(need=need, substitute=row, by=request.user)
    say_done(request)
    return redirect(need.get_absolute_url())
