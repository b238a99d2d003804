"""The same form sent twice counts once."""

import functools
import secrets

from django.contrib import messages
from django.db import transaction
from django.http import HttpResponse
from django.shortcuts import redirect

from inventory.models import SentForm


def new_token() -> str:
    return secrets.token_hex(16)


def sent_once(view):
    """Run a POST view in one transaction that also keeps the form's token.

    The first sender does the work; a repeat, even at the same moment, gets the first one's
    address. An answer of 400 or more saves nothing, so a mended form may be sent again.
    """

    @functools.wraps(view)
    def guarded(request, *args, **kwargs):
        token = request.POST.get("token", "")[:40] if request.method == "POST" else ""
        if not token:
            return view(request, *args, **kwargs)
        with transaction.atomic():
            sent, first = SentForm.objects.get_or_create(token=f"{request.user.pk}:{token}")
            if not first:
                return _already_done(request, sent)
            response = view(request, *args, **kwargs)
            if response.status_code >= 400:
                transaction.set_rollback(True)
            else:
                sent.address = response.get("Location", "")
                sent.save(update_fields=["address"])
        return response

    return guarded


def _already_done(request, sent: SentForm) -> HttpResponse:
    messages.info(request, "That was done already; it counts once.")
    return redirect(sent.address or request.path)
