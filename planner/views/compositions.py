from django.shortcuts import get_object_or_404

from inventory.access import access
from inventory.models import Item
from inventory.sent import sent_once
from inventory.views.editing import edit_page, form_page
from planner import compositions
from planner.forms.composition import CompositionForm, EditCompositionForm
from planner.models import Composition


@access(read="maker", write="maker")
@sent_once
def composition(request, pk):
    """Say what is in an item, or change what was said."""
    item = get_object_or_404(Item, pk=pk, kind__in=compositions.COUNTS)
    row = Composition.objects.filter(item=item).select_related("item").first()
    if row:
        return edit_page(
            request,
            instance=row,
            form_class=EditCompositionForm,
            save=compositions.edit,
            title=str(row),
        )
    typed = request.POST if request.method == "POST" else None
    found = compositions.guess(item.name)
    form = CompositionForm(typed, person=request.user, initial={"packaged": found})

    def act(form):
        compositions.describe(item=item, by=request.user, **form.values())
        return item

    return form_page(
        request,
        form=form,
        act=act,
        title=f"What is in {item}",
        submit="Keep it",
        words="Per 100 g. What the house measured stands before the packaged table; empty is not nothing.",
        cancel=item.get_absolute_url(),
    )
