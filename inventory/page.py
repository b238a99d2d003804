"""What every page is given: the house, the person's role and preferences."""

from django.conf import settings


def context(request) -> dict:
    return {
        "house": getattr(request, "house", None),
        "role": getattr(request, "role", None),
        "may_write": getattr(request, "role", None) in ("maker", "keeper"),
        "may_pick": getattr(request, "role", None) in ("picker", "maker", "keeper"),
        "plain_http": not settings.HTTPS,
    }
