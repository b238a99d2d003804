from django.contrib import messages
from django.shortcuts import redirect, render
from django.urls import reverse

from inventory import sheets
from inventory.access import access
from inventory.forms.sheets import SheetForm
from inventory.refusals import Refusal
from inventory.sent import sent_once
from inventory.views.editing import brought

SAID = {
    "items": ("item was named", "items were named", "inventory:store"),
    "lots": ("lot came in", "lots came in", "inventory:lot-list"),
    "glass": ("kind of bottle came in", "kinds of bottle came in", "inventory:glass-list"),
}


@access(read="maker", write="maker")
@sent_once
def sheet_add(request):
    """Many rows at once: looked through first, then all taken in or none."""
    form = SheetForm(*brought(request), person=request.user)
    looked = None
    if form.is_bound and form.is_valid():
        try:
            looked = form.looked()
            if looked.is_good and request.POST.get("do") == "take":
                return _taken(request, form, looked)
        except Refusal as refusal:
            form.apply_refusal(refusal)
            looked = None
    context = {
        "form": form,
        "looked": looked,
        "text": form.cleaned_data.get("text", "") if looked else "",
        "what": form.cleaned_data.get("what", "") if looked else "",
        "title": "Bring a table",
        "submit": "Look it through",
        "cancel": reverse("inventory:store"),
    }
    wrong = form.is_bound and (looked is None or not looked.is_good)
    return render(request, "inventory/sheet_add.html", context, status=422 if wrong else 200)


def _taken(request, form, looked):
    what = form.cleaned_data["what"]
    count = sheets.take_in(what=what, rows=looked.values(), by=request.user)
    one, several, goal = SAID[what]
    messages.success(request, f"{count} {one if count == 1 else several}.")
    return redirect(goal)
