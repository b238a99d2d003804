"""The eight places of the navigation, for every page."""

from django.urls import resolve, reverse
from django.utils.functional import SimpleLazyObject

from inventory import household

PLACES = (
    ("planner:today", "Today"),
    ("planner:season", "Season"),
    ("inventory:store", "Store"),
    ("planner:recipe-list", "Recipes"),
    ("planner:batch-list", "Batches"),
    ("planner:cellar", "Cellar"),
    ("planner:calendar", "Calendar"),
    ("inventory:household", "Household"),
)


# Addresses that lie within a place without beginning like it.
WITHIN = {
    "planner:season": ("/observations/", "/patches/", "/picks/", "/plants/", "/weather/"),
    "inventory:store": ("/glass/", "/items/", "/loans/", "/lots/", "/receipts/", "/requirements/", "/runs-out/", "/shortfalls/",
                        "/sheets/", "/shopping/", "/stocktake/", "/vessels/"),
    "planner:recipe-list": ("/bench/", "/compositions/"),
    "planner:batch-list": ("/additions/", "/readings/", "/steps/"),
    "planner:cellar": ("/places/",),
    "planner:calendar": ("/busy/",),
    "inventory:household": ("/me/", "/living/", "/words/"),
}  # fmt: skip


def places(request) -> list[dict]:
    """The places this person may enter, with the one the page belongs to marked as current."""
    # Not from the gate: a page of failure is shown without ever passing it.
    role = household.role_of(request.user) if hasattr(request, "user") else None
    return [
        {"address": address, "title": title, "current": _is_here(request.path, name, address)}
        for name, title in PLACES
        for address in [reverse(name)]
        if resolve(address).func.access.admits(role, "GET")
    ]


def _is_here(path: str, name: str, address: str) -> bool:
    if address == "/":
        return path == "/"
    return path.startswith((address, *WITHIN.get(name, ())))


def context(request) -> dict:
    return {"places": SimpleLazyObject(lambda: places(request))}
