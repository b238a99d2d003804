from django.contrib import messages
from django.shortcuts import get_object_or_404, redirect
from django.views.decorators.http import require_POST

from inventory import activity
from inventory.access import access
from inventory.forms.household import ActivityFilter
from inventory.models import Activity
from inventory.refusals import Refusal
from inventory.sent import sent_once
from inventory.tables.household import ActivityTable
from inventory.views.listing import listing


@access(read="picker")
def activity_list(request):
    return listing(
        request,
        filter_form=ActivityFilter,
        rows=Activity.objects.select_related("by"),
        table_class=ActivityTable,
        template="inventory/activity_list.html",
        name="activity",
    )


@access(write="maker")
@require_POST
@sent_once
def activity_undo(request, pk):
    done = get_object_or_404(Activity, pk=pk)
    try:
        opposite = activity.undo(activity=done, by=request.user)
    except Refusal as refusal:
        messages.error(request, refusal.message)
    else:
        messages.success(request, f"{opposite.summary}.")
    return redirect(done)
