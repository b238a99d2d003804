"""One way to fill in a form, and one way to change a row that somebody else may be changing too."""

from django import forms
from django.shortcuts import redirect, render

from inventory.editing import EditConflict, save_edit
from inventory.refusals import Refusal
from inventory.views.saying import say_done


def brought(request) -> tuple:
    """What a form with a file is filled in with: nothing before it is sent."""
    return (request.POST, request.FILES) if request.method == "POST" else (None, None)


def form_page(
    request, *, form, act, title, submit="Save", template="inventory/form.html", **context
):
    """Show a form and do what it asks: a refusal lands at its box, nothing typed is lost.

    `act(form)` calls the domain function and returns where to go: a row or an address.
    """
    if request.method == "POST" and form.is_valid():
        try:
            goal = act(form)
        except Refusal as refusal:
            form.apply_refusal(refusal)
        else:
            say_done(request)
            return redirect(goal)
    page = {"form": form, "title": title, "submit": submit, **context}
    return render(request, template, page, status=422 if form.is_bound else 200)


def edit_page(request, *, instance, form_class, save=save_edit, goal=None, **page):
    """Change a row by an `EditForm`; who saves second sees both texts and loses nothing.

    `save(instance, version=..., values=..., by=...)` writes and returns the row; afterwards the
    person goes to `goal`, or to the row's own page. The rest is handed to `form_page`.
    """
    typed = request.POST if request.method == "POST" else None
    form = form_class(typed, instance=instance, person=request.user)
    goal = goal or instance.get_absolute_url()

    def act(form):
        version = form.cleaned_data["version"]
        save(instance, version=version, values=form.values(), by=request.user)
        return goal

    page = {"title": f"Change {instance}", "cancel": goal} | page
    try:
        return form_page(request, form=form, act=act, **page)
    except EditConflict as conflict:
        return _conflict_page(request, form, conflict.current, page["cancel"])


def _conflict_page(request, form, current, cancel):
    """Both texts side by side, and the form again with what was typed, now upon the newer row."""
    typed = request.POST.copy()
    typed["version"] = str(current.version)
    again = type(form)(typed, instance=current, person=request.user)
    standing = type(form)(instance=current, person=request.user)
    rows = [
        (
            field.label,
            words_of(standing[field.name]),
            words_of(field),
            form.cleaned_data.get(field.name) != standing.initial.get(field.name),
        )
        for field in again.visible_fields()
    ]
    context = {"form": again, "current": current, "rows": rows, "cancel": cancel}
    return render(request, "409.html", context, status=409)


def words_of(field: forms.BoundField) -> str:
    """What stands in a box, in the words a person sees there."""
    value = field.value()
    if isinstance(field.field, forms.BooleanField):
        return "yes" if field.field.to_python(value) else "no"
    choices = {str(key): words for key, words in getattr(field.field, "choices", ())}
    return str(choices.get(str(value), value) or "nothing")
