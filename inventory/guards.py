"""What stands before every page: roles, the house's clock, clean addresses, refusals, a failing disk."""

import logging
from urllib.parse import urlsplit

from django.contrib import messages
from django.core.exceptions import BadRequest, PermissionDenied
from django.db import DatabaseError, DataError
from django.shortcuts import redirect
from django.utils.deprecation import MiddlewareMixin
from django.utils.http import url_has_allowed_host_and_scheme

from inventory import household
from inventory.refusals import Refusal
from inventory.views import failures


class RoleGate(MiddlewareMixin):
    """Refuses a view without a declared role, and a person below it."""

    def process_view(self, request, view, args, kwargs):
        access = getattr(view, "access", None)
        role = household.role_of(request.user)
        if access is None or not access.admits(role, request.method):
            raise PermissionDenied
        request.role = role


class HouseClock(MiddlewareMixin):
    """Puts the house's time zone in force and the house on the request."""

    def process_request(self, request):
        try:
            request.house = household.activate_clock()
        except DatabaseError as error:
            return say_that_storage_failed(request, error)
        return None


class CleanAddresses(MiddlewareMixin):
    """Refuses control characters in an address, which one database stores and another cannot."""

    def process_request(self, request):
        asked = request.path + "".join(
            key + "".join(request.GET.getlist(key)) for key in request.GET
        )
        if any(ord(letter) < 32 for letter in asked) or any(
            "\ud800" <= letter <= "\udfff" for letter in asked
        ):
            raise BadRequest("The address holds characters that no page understands.")
        if len(request.META.get("QUERY_STRING", "")) > 8000:
            raise BadRequest("The address is too long.")


class Refused(MiddlewareMixin):
    """What a button asked for and the house refuses is said where the person came from."""

    def process_exception(self, request, error):
        if not isinstance(error, Refusal):
            return None
        messages.error(request, error.message)
        return redirect(_where_from(request))


def _where_from(request) -> str:
    """The page of this house that the button stood on, else the first one."""
    came = urlsplit(request.META.get("HTTP_REFERER", ""))
    here = came.netloc == request.get_host() and url_has_allowed_host_and_scheme(came.path, None)
    return came.path if here else "/"


class StorageFaults(MiddlewareMixin):
    """Says in words that the database could not be written; nothing was saved."""

    def process_exception(self, request, error):
        if isinstance(error, DataError):
            return failures.bad_request(request, error)
        if isinstance(error, DatabaseError):
            return say_that_storage_failed(request, error)
        return None


def say_that_storage_failed(request, error):
    logging.getLogger("maythorn").error("database: %s", error)
    return failures.storage_fault(request, error)
