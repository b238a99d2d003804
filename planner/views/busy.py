from django.shortcuts import get_object_or_404, redirect, render
from django.urls import reverse
from django.views.decorators.http import require_POST

from inventory import clock
from inventory.access import access
from inventory.sent import sent_once
from inventory.views.editing import form_page
from inventory.views.saying import say_done
from planner import busy
from planner.forms.busy import BusyForm
from planner.models import BusySpell


@access(read="picker")
def busy_list(request):
    spells = BusySpell.objects.filter(taken_back=False).order_by("first", "pk")
    today = clock.today()
    context = {
        "coming": spells.filter(last__gte=today),
        "past": spells.filter(last__lt=today).order_by("-first")[:20],
    }
    return render(request, "planner/busy_list.html", context)


@access(read="maker", write="maker")
@sent_once
def busy_add(request):
    form = BusyForm(request.POST if request.method == "POST" else None, person=request.user)

    def act(form):
        return busy.add(by=request.user, **form.cleaned_data)

    page = {
        "title": "Busy days",
        "submit": "Keep them free",
        "cancel": reverse("planner:busy-list"),
    }
    return form_page(request, form=form, act=act, **page)


@access(write="maker")
@require_POST
@sent_once
def busy_remove(request, pk):
    busy.remove(spell=get_object_or_404(BusySpell, pk=pk, taken_back=False), by=request.user)
    say_done(request)
    return redirect("planner:busy-list")
