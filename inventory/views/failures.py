"""Pages for what went wrong: each says what to do next."""

import sys

from django.conf import settings
from django.core.exceptions import RequestDataTooBig, TooManyFieldsSent
from django.db import DatabaseError
from django.shortcuts import render

DISK_FULL = ("full", "no space")
READ_ONLY = ("readonly", "read-only", "permission")


def bad_request(request, exception=None):
    if isinstance(exception, (RequestDataTooBig, TooManyFieldsSent)):
        return too_large(request, exception)
    return render(request, "400.html", {"reason": str(exception or "")[:200]}, status=400)


def too_large(request, exception):
    if isinstance(exception, TooManyFieldsSent):
        most = f"{settings.DATA_UPLOAD_MAX_NUMBER_FIELDS} boxes"
        advice = f"A form takes at most {most}. Send it in parts, with fewer rows in each."
    else:
        most = f"{settings.DATA_UPLOAD_MAX_MEMORY_SIZE / 1_000_000:g} MB of text"
        advice = f"A form takes at most {most}. Shorten the longest text, or send it in parts."
    return render(request, "413.html", {"advice": advice}, status=413)


def forbidden(request, exception=None):
    return render(request, "403.html", status=403)


def form_expired(request, reason=""):
    return render(request, "403_form.html", status=403)


def not_found(request, exception=None):
    return render(request, "404.html", status=404)


def server_error(request):
    error = sys.exc_info()[1]
    if isinstance(error, DatabaseError):
        return storage_fault(request, error)
    return render(request, "500.html", status=500)


def storage_fault(request, error):
    """The disk's own words decide the advice; nothing was saved in any of these cases."""
    words = str(error).lower()
    if any(word in words for word in DISK_FULL):
        advice = "The disk is full. Free some space, then send it again."
    elif any(word in words for word in READ_ONLY):
        advice = "The data folder cannot be written. Check its owner and permissions."
    elif "unable to open" in words:
        advice = (
            "The data folder or its disk is missing. Put it back, or run setup for a new house."
        )
    else:
        advice = "The database did not answer in time. Wait a moment, then send it again."
    return render(request, "503.html", {"advice": advice}, status=503)
