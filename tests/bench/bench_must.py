"""What does the live answer of a must cost beside three empty pages?

Run from the top of the project: python -m tests.bench.bench_must
Floor: the same frame without anything in it, through the same middleware. Goal: under 3.
"""

from tests.bench.own_house import FOLDER  # isort: skip

import time
from itertools import count
from urllib.parse import urlencode

from django.conf import settings
from django.db import connection
from django.http import HttpResponse
from django.template import engines
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import path

from inventory import household, items
from inventory.access import access
from planner import compositions, recipes, urls
from tests.bench.pairs import pair

EMPTY = '{% extends "base.html" %}{% block content %}<h1>Floor</h1>{% endblock content %}'


@access(read="guest")
def empty(request):
    return HttpResponse(engines["django"].from_string(EMPTY).render({}, request))


urlpatterns = [path("bare/", empty), *urls.urlpatterns]


def must(maker) -> tuple[int, dict]:
    """A recipe with six ingredients typed among sixty items."""
    kept = [
        items.add_item(by=maker, name=f"Fruit {n}", kind="foraged", base="mg") for n in range(60)
    ]
    for item in kept[:6]:
        compositions.describe(item=item, by=maker, sugar=9_000, water=85_000, acid=1_500)
    recipe = recipes.add_recipe(name="Damson", product="still", by=maker)
    rows = {
        f"lines-{n}-{name}": value
        for n in range(9)
        for name, value in (
            ("item", kept[n].pk if n < 6 else ""),
            ("amount", "2 kg" if n < 6 else ""),
            ("basis", "fixed"),
        )
    }
    frame = {
        f"{prefix}-{name}": value
        for prefix, count in (("lines", 9), ("steps", 0))
        for name, value in (("TOTAL_FORMS", count), ("INITIAL_FORMS", 0))
    }
    return recipe.pk, rows | frame | {"volume": "20 L", "bears_low": "12", "sweet": "medium"}


def main() -> None:
    settings.ROOT_URLCONF = "tests.bench.bench_must"
    settings.STORAGES["staticfiles"] = {
        "BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"
    }
    household.settle(name="Skelder Fold", time_zone="Europe/London")
    maker = household.add_person(username="maker", password=None, role="maker")
    recipe, typed = must(maker)
    client = Client(HTTP_HOST="127.0.0.1")
    client.force_login(maker, backend=settings.AUTHENTICATION_BACKENDS[-1])

    amounts = count(2000)

    def live():
        """Another amount each time, as somebody types it, so that nothing is remembered."""
        form = urlencode(typed | {"lines-0-amount": f"{next(amounts)} g"})
        kind = "application/x-www-form-urlencoded"
        return client.post(
            f"/recipes/{recipe}/reckon/", form, content_type=kind, HTTP_HX_REQUEST="true"
        )

    print(f"a house in {FOLDER.name}")
    with CaptureQueriesContext(connection) as asked:
        assert b"Start gravity" in live().content
    print(f"live must, {len(asked)} queries, beside one empty page: ", end="")
    pair(lambda: client.get("/bare/"), live, pairs=31, clock=time.process_time)


if __name__ == "__main__":
    main()
