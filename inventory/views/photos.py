from django.http import FileResponse, Http404
from django.shortcuts import get_object_or_404

from inventory import photos
from inventory.access import access
from inventory.models import Photo


@access(read="picker")
def photo(request, pk):
    """The file itself; pictures may show where something grows, so guests have none."""
    row = get_object_or_404(Photo, pk=pk, taken_back=False)
    try:
        file = photos.path_of(row).open("rb")
    except FileNotFoundError:
        raise Http404 from None
    answer = FileResponse(file, content_type="image/jpeg")
    answer["Cache-Control"] = "private, max-age=31536000, immutable"
    answer["Content-Disposition"] = "inline"
    return answer
