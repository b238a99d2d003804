from django.conf import settings
from django.http import HttpResponse
from django.shortcuts import get_object_or_404, render

from inventory import labels, shown
from inventory.access import access
from inventory.forms.labels import LabelForm
from inventory.labels import Label
from inventory.models import Lot
from inventory.refusals import Refusal

AS_PDF = "pdf"


def label_page(request, *, subject, initial, warnings=(), picture=None):
    """A form, how the label would be set, and at ?format=pdf the sheet itself.

    `warnings` stand on every label, whatever is typed.
    """
    asked = {key: value for key, value in request.GET.items() if key != "format"}
    form = LabelForm(request.GET if asked else None, person=request.user, initial=initial)
    context = {
        "form": form,
        "subject": subject,
        "warnings": warnings,
        "query": request.GET.urlencode(),
    }
    if form.is_bound and form.is_valid():
        found = form.cleaned_data
        address = f"{settings.SITE_URL}{subject.get_absolute_url()}" if found["code"] else ""
        label = Label(found["name"], (*form.lines, *warnings), address, picture)
        try:
            pdf = labels.sheet(
                [(label, found["count"])],
                grid=form.layout,
                first=found["first"],
                outlines=found["outlines"],
            )
        except Refusal as refusal:
            form.apply_refusal(refusal)
        else:
            if request.GET.get("format") == AS_PDF:
                return _file(pdf, f"labels-{subject.mark}.pdf")
            context |= {"label": label, "grid": form.layout, "size": len(pdf)}
    return render(
        request, "inventory/label_sheet.html", context, status=422 if form.errors else 200
    )


def _file(pdf, name):
    answer = HttpResponse(pdf, content_type="application/pdf")
    answer["Content-Disposition"] = f'inline; filename="{name}"'
    return answer


@access(read="maker")
def lot_label(request, pk):
    """A label for a jar or a bag: what it is, its mark, and until when it keeps."""
    lot = get_object_or_404(Lot.objects.select_related("item", "place"), pk=pk)
    said = [f"Lot {lot.mark}", f"received {shown.day_text(lot.received)}"]
    if lot.use_by:
        said.append(f"use by {shown.day_text(lot.use_by)}")
    initial = {"name": str(lot.item), "text": "\n".join(said), "count": 1}
    return label_page(request, subject=lot, initial=initial)
