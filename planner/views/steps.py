from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from inventory import clock
from inventory.access import access
from inventory.sent import sent_once
from inventory.views.editing import form_page
from inventory.views.saying import say_done
from planner import moves, outlook, steps
from planner.forms.steps import CompleteStepForm, MoveStepForm, SkipStepForm
from planner.models import Step

TEMPLATE = "planner/step_form.html"


def _step(pk):
    return get_object_or_404(Step.objects.select_related("batch", "template"), pk=pk)


def _form(request, form_class, step):
    return form_class(request.POST or None, step=step, person=request.user)


@access(read="maker", write="maker")
@sent_once
def step_move(request, pk):
    step = _step(pk)

    def move(form):
        moves.move_step(step=step, by=request.user, **form.cleaned_data)
        return step

    return form_page(
        request,
        form=_form(request, MoveStepForm, step),
        act=move,
        title="Move",
        submit="Move it",
        template=TEMPLATE,
        step=step,
        followers=outlook.followers(step),
    )


@access(read="maker", write="maker")
@sent_once
def step_complete(request, pk):
    step = _step(pk)

    def complete(form):
        steps.complete_step(step=step, by=request.user, **form.cleaned_data)
        return "planner:today" if request.POST.get("back") == "today" else step

    return form_page(
        request,
        form=_form(request, CompleteStepForm, step),
        act=complete,
        title="Done",
        submit="It is done",
        template=TEMPLATE,
        step=step,
        uses=outlook.uses_of(step, today=clock.today()),
    )


@access(read="maker", write="maker")
@sent_once
def step_skip(request, pk):
    step = _step(pk)

    def skip(form):
        steps.skip_step(step=step, by=request.user, **form.cleaned_data)
        return step

    return form_page(
        request,
        form=_form(request, SkipStepForm, step),
        act=skip,
        title="Skip",
        submit="Skip it",
        template=TEMPLATE,
        step=step,
    )


@access(write="maker")
@require_POST
@sent_once
def step_pin(request, pk):
    step = _step(pk)
    pin = moves.unpin if step.pinned else moves.pin
    pin(step=step, by=request.user)
    say_done(request)
    return redirect(step)
