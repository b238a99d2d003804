"""How much does a list page cost beside the same rows in a plain template loop?

Run from the top of the project: python -m tests.bench.bench_lists
Floor: the same query in a bare loop, within the same frame, through the same middleware. Goals: at most
2.5 times; the same number of queries at 25 and at 200 rows.
"""

from tests.bench.own_house import FOLDER  # isort: skip

import datetime as dt
import time

from django.conf import settings
from django.db import connection
from django.http import HttpResponse
from django.template import engines
from django.test import Client
from django.test.utils import CaptureQueriesContext
from django.urls import path

from inventory import clock, household, requirements, shortfalls
from inventory.access import access
from inventory.models import Item
from planner import recipes, urls
from planner.models import Batch
from tests.bench.pairs import pair

LITRE = 1_000_000
TODAY = dt.date(2026, 4, 6)
# What a page shows at most.
SHOWN = 50
BARE = """{% extends "base.html" %}{% block content %}<h1>Floor</h1><table>{% for row in rows %}<tr>
<td><a href="{{ row.0 }}">{{ row.1 }}</a></td>{% for cell in row.2 %}<td>{{ cell }}</td>{% endfor %}
</tr>{% endfor %}</table>{% endblock content %}"""


def bare(request, rows):
    return HttpResponse(engines["django"].from_string(BARE).render({"rows": rows}, request))


@access(read="guest")
def bare_batches(request):
    found = Batch.objects.with_next_step().select_related("recipe_version__recipe")
    found = found.exclude(state="dropped")
    found.count()
    rows = [
        (f"/batches/{b.pk}/", b.name, (b.recipe_version.recipe.name, b.state, b.volume, b.start))
        for b in found[:SHOWN]
    ]
    return bare(request, rows)


@access(read="guest")
def bare_shortfalls(request):
    rows = [
        (f"/items/{one.item.pk}/", one.item.name, (line.day, line.quantity, line.order_day))
        for one in shortfalls.shortfalls(today=clock.today())
        for line in one.lines
    ]
    return bare(request, rows[:SHOWN])


urlpatterns = [
    path("bare/batches/", bare_batches),
    path("bare/shortfalls/", bare_shortfalls),
    *urls.urlpatterns,
]


def fill(rows: int, maker) -> None:
    """Batches and short items up to so many of each."""
    recipe = recipes.add_recipe(name=f"Damson {rows}", product="still", by=maker)
    steps = [recipes.StepDraft(key="1", title="Mash")]
    version = recipes.add_version(recipe=recipe, steps=steps, lines=[], by=maker)
    have = Batch.objects.count()
    Batch.objects.bulk_create(
        Batch(name=f"Batch {n}", recipe_version=version, volume=9 * LITRE, start=TODAY)
        for n in range(have, rows)
    )
    items = Item.objects.bulk_create(
        Item(name=f"Herb {n}", kind="foraged", base="mg", pack=1000) for n in range(have, rows)
    )
    day = TODAY + dt.timedelta(days=30)
    needs = [requirements.Need(item, 5000, day, f"{item}: mash") for item in items]
    requirements.need_all(needs=needs, by=maker)


def main() -> None:
    settings.ROOT_URLCONF = "tests.bench.bench_lists"
    settings.STORAGES["staticfiles"] = {
        "BACKEND": "django.contrib.staticfiles.storage.StaticFilesStorage"
    }
    household.settle(name="Skelder Fold", time_zone="Europe/London")
    maker = household.add_person(username="maker", password=None, role="maker")
    client = Client(HTTP_HOST="127.0.0.1")
    client.force_login(maker, backend=settings.AUTHENTICATION_BACKENDS[-1])
    print(f"a house in {FOLDER.name}")
    for rows in (25, 200):
        fill(rows, maker)
        for name in ("batches", "shortfalls"):
            with CaptureQueriesContext(connection) as asked:
                assert client.get(f"/{name}/").status_code == 200
            print(f"{name}, {rows} rows, {len(asked)} queries: ", end="")
            pair(
                lambda name=name: client.get(f"/bare/{name}/"),
                lambda name=name: client.get(f"/{name}/"),
                pairs=21,
                clock=time.process_time,
            )


if __name__ == "__main__":
    main()
