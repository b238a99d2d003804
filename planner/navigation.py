"""The eight places of the navigation, for every page."""

from django.urls import reverse
from django.utils.functional import SimpleLazyObject

PLACES = (
    ("planner:today", "Today"),
    ("planner:season", "Season"),
    ("inventory:store", "Store"),
    ("planner:recipe-list", "Recipes"),
    ("planner:batch-list", "Batches"),
    ("inventory:cellar", "Cellar"),
    ("planner:calendar", "Calendar"),
    ("inventory:household", "Household"),
)


def places(request) -> list[dict]:
    """The navigation, with the current place marked by the longest matching address."""
    found = [{"address": reverse(name), "title": title} for name, title in PLACES]
    here = [place for place in found if request.path.startswith(place["address"])]
    current = max(here, key=lambda place: len(place["address"]), default=None)
    return [{**place, "current": place is current} for place in found]


def context(request) -> dict:
    return {"places": SimpleLazyObject(lambda: places(request))}
