from django.shortcuts import get_object_or_404, render
from django.urls import reverse

from inventory import shown
from inventory.access import access
from inventory.sent import sent_once
from inventory.views.editing import edit_page, form_page
from inventory.views.listing import listing
from planner import making_safe, recipes
from planner.forms.filters import RecipeFilter
from planner.forms.recipes import RecipeEditForm, RecipeForm
from planner.forms.versions import VersionForms
from planner.models import Recipe, RecipeVersion
from planner.tables.recipes import RecipeTable
from planner.views import must


@access(read="guest")
def recipe_list(request):
    return listing(
        request,
        filter_form=RecipeFilter,
        rows=Recipe.objects.filter(archived=False).with_use(),
        table_class=RecipeTable,
        template="planner/recipe_list.html",
        name="recipes",
    )


@access(read="maker", write="maker")
@sent_once
def recipe_add(request):
    def add(form):
        recipe = recipes.add_recipe(by=request.user, **form.cleaned_data)
        return reverse("planner:version-add", args=[recipe.pk])

    return form_page(
        request,
        form=RecipeForm(request.POST or None, person=request.user),
        act=add,
        title="New recipe",
        submit="Go on to its steps",
    )


@access(read="guest")
def recipe_detail(request, pk):
    """The newest version in full, and the others by number."""
    recipe = get_object_or_404(Recipe, pk=pk)
    versions = list(recipe.versions.select_related("made_by", "parent").with_batches())
    return _version_page(request, recipe, versions, versions[0] if versions else None)


@access(read="guest")
def recipe_version(request, pk, number):
    recipe = get_object_or_404(Recipe, pk=pk)
    versions = list(recipe.versions.select_related("made_by", "parent").with_batches())
    chosen = get_object_or_404(RecipeVersion, recipe=recipe, number=number)
    return _version_page(request, recipe, versions, chosen)


def _version_page(request, recipe, versions, chosen):
    context = {"recipe": recipe, "versions": versions, "chosen": chosen}
    if chosen:
        chosen.recipe = recipe
        context |= must.kept_context(request, chosen)
        context["steps"] = chosen.steps.prefetch_related("lines__item").select_related("after")
        context["unsafe"] = making_safe.of_version(chosen)
        context["used_by"] = chosen.batches.order_by("-start")[:20]
    return render(request, "planner/recipe_detail.html", context)


@access(read="maker", write="maker")
@sent_once
def recipe_edit(request, pk):
    return edit_page(request, instance=get_object_or_404(Recipe, pk=pk), form_class=RecipeEditForm)


@access(read="maker", write="maker")
@sent_once
def version_add(request, pk):
    """Write the next version, beginning from an earlier one if the address names it."""
    recipe = get_object_or_404(Recipe, pk=pk)
    form = VersionForms(request, parent=_parent(request, recipe))

    def write(form):
        return recipes.add_version(recipe=recipe, by=request.user, **form.drafts())

    return form_page(
        request,
        form=form,
        act=write,
        template="planner/version_add.html",
        **must.page_context(form, recipe, shown.preference(request)),
    )


def _parent(request, recipe):
    """The version named by ?from=, else the newest; none if the recipe has none yet."""
    asked = request.GET.get("from", "")
    number = int(asked) if asked.isascii() and asked.isdigit() and len(asked) < 9 else None
    versions = recipe.versions.order_by("-number")
    return (versions.filter(number=number) if number else versions).first()
