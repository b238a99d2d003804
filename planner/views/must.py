"""The must beside the recipe: reckoned as it is typed, and made to order."""

from django.shortcuts import get_object_or_404, render
from django.views.decorators.http import require_POST

from inventory import shown
from inventory.access import access
from inventory.refusals import Refusal
from planner import compositions, figures, must_actions, must_design
from planner.forms.must import MakeForm, ScaleForm
from planner.forms.versions import VersionForms
from planner.models import Recipe


def design_of(form: VersionForms, recipe: Recipe, vessels) -> must_design.Design | None:
    """The must as far as it can be read; none while nobody said for how much."""
    version = form.design.drafted(recipe) if form.is_bound else form.parent
    if version is None or not version.volume:
        return None
    lines = list(form.readable_lines().values())
    return must_design.reckon(
        lines,
        volume_ul=version.volume,
        wished=must_design.wishes_of(version),
        bears=must_design.bears_of(version),
        ferments=recipe.product not in must_design.NO_FERMENT,
        vessels=vessels,
        own=compositions.by_item(line.item.pk for line in lines),
    )


def balance_context(design, preference) -> dict:
    """What the fragment of the balance shows: each figure with its text and the note on its rule."""
    if design is None or design.refused:
        return {"design": design, "rows": []}
    balance, ahead = design.balance, design.prospect
    rows = [
        ("Water to pour", balance.water_l, False),
        ("All the sugar", balance.sugar_kg, True),
        ("Sugar in a litre", balance.sugar_g_per_l, False),
        ("Start gravity", balance.gravity, True),
    ]
    if ahead:
        rows += [
            ("Finish to expect", ahead.finish, False),
            ("Strength to expect", ahead.strength, True),
            (_sweetness_label(ahead), ahead.sugar_left, False),
            ("Nitrogen wanted", design.nitrogen_wanted, False),
            ("Nitrogen it brings", balance.nitrogen_mg_per_l, False),
        ]
    rows += [
        ("Acid", balance.acid_g_per_l, False),
        ("Tannin", balance.tannin_g_per_l, False),
        ("Room with the fruit in it", balance.with_fruit_l, False),
    ]
    said = [
        (label, figures.text_of(figure, preference), figure, figures.note_of(figure), main)
        for label, figure, main in rows
        if figure is not None
    ]
    return {"design": design, "rows": said}


def _sweetness_label(ahead) -> str:
    words = ahead.words
    if not words:
        return "Sugar left"
    span = words[0] if len(words) == 1 else f"{words[0]} to {words[-1]}"
    return f"Sugar left: {span}"


@access(write="maker")
@require_POST
def must_reckon(request, pk):
    """The balance of what is typed, or the typed rows made to order; keeps nothing."""
    recipe = get_object_or_404(Recipe, pk=pk)
    typed, changes = request.POST.copy(), []
    form, preference = _form(request, recipe, typed), shown.preference(request)
    asked = typed.pop("make", [""])[-1]
    if request.htmx and not asked:
        design = design_of(form, recipe, must_design.open_vessels())
        return render(request, "planner/_must_balance.html", balance_context(design, preference))
    if asked:
        changes = _made(asked, typed, form, _make_form(form, typed))
        form = _form(request, recipe, typed, refused=form.refused)
    context = page_context(form, recipe, preference, _make_form(form, typed))
    context |= {"form": form, "changes": changes}
    context["back"] = _back(request.POST, typed) if changes and asked != "back" else []
    return render(request, "planner/version_add.html", context, status=422 if form.refused else 200)


def page_context(form, recipe, preference, make=None) -> dict:
    """What the page needs beside the form itself."""
    make = make or _make_form(form, None)
    return {
        "make": make,
        "recipe": recipe,
        "title": f"{recipe}: new version",
        "submit": "Keep this version",
        **balance_context(design_of(form, recipe, make.vessels.values()), preference),
    }


def kept_context(request, version) -> dict:
    """The balance of a kept version, at its own volume or at the one that is asked for."""
    form = ScaleForm(request.GET if "volume" in request.GET else None, person=request.user)
    volume = (form.cleaned_data["volume"] if form.is_valid() else None) or version.volume
    preference = shown.preference(request)
    design = must_design.of_version(version, volume_ul=volume) if volume else None
    amounts = must_design.needs_of(version, volume_ul=volume) if volume else []
    return {"scale": form, "volume": volume, "amounts": amounts} | balance_context(
        design, preference
    )


def _form(request, recipe, typed, refused=()) -> VersionForms:
    number = typed.get("parent", "")
    parent = recipe.versions.filter(number=int(number)).first() if number.isdigit() else None
    form = VersionForms(request, parent=parent, typed=typed, reckoning=True)
    form.refused.extend(refused)
    return form


def _make_form(form: VersionForms, typed) -> MakeForm:
    counted = [item for item in form.items.values() if compositions.counts(item)]
    return MakeForm(typed, items=counted, person=form.person)


def _made(asked: str, typed, form: VersionForms, make: MakeForm) -> list[str]:
    """Change the typed rows as asked; returns in words what changed, or leaves a refusal."""
    if asked == "back":
        for name in [name for name in typed if name.startswith("back-")]:
            typed[name.removeprefix("back-")] = typed.pop(name)[-1]
        return ["Taken back: the amounts are as they were."]
    rows = form.readable_lines()
    form.design.is_valid()
    volume = getattr(form.design, "cleaned_data", {}).get("volume")
    make.is_valid()
    try:
        if not volume:
            raise Refusal("Say first for how much it is reckoned.", field="volume")
        changed = make.changed(asked, list(rows.values()), volume)
    except Refusal as refusal:
        form.refused.append(refusal.message)
        return []
    for n, line in zip(rows, changed.lines, strict=True):
        typed[f"lines-{n}-amount"] = form.amount_text(line)
    typed["volume"] = form.design.fields["volume"].prepare_value(changed.volume_ul)
    return must_actions.difference(
        list(rows.values()), volume, changed, preference=form.person.units
    )


def _back(before, after) -> list[tuple[str, str]]:
    """The boxes that were changed, as they were."""
    names = [name for name in after if name == "volume" or name.endswith("-amount")]
    return [
        (f"back-{name}", before.get(name, ""))
        for name in names
        if before.get(name, "") != after.get(name, "")
    ]
