from django.db import connection
from django.http import HttpResponse
from django.views.decorators.cache import never_cache
from django.views.decorators.http import require_safe

from inventory.access import public


@public
@never_cache
@require_safe
def health(request):
    """Answers only if the database does; without it the answer is 503."""
    with connection.cursor() as cursor:
        cursor.execute("select 1")
        cursor.fetchone()
    return HttpResponse("ok", content_type="text/plain")
