"""How much does the calendar feed cost beyond text made by hand and an empty page?

Run from the top of the project: DJANGO_SETTINGS_MODULE=tests.settings python -m tests.bench.bench_feed
Goals: first full build at most 12 times the text made by hand, one event in a hundred changed at most
0.5 of it, an unchanged feed at most 2.0 times an empty page.
"""

import datetime as dt
import functools
import sys
import time

import django

django.setup()

from django.db import connection  # noqa: E402
from django.http import HttpResponse  # noqa: E402
from django.test import Client, override_settings  # noqa: E402
from django.urls import path  # noqa: E402

from inventory import household  # noqa: E402
from inventory.access import public  # noqa: E402
from planner import batches, feed, feeds, recipes, urls  # noqa: E402
from planner.models import Step  # noqa: E402
from planner.recipes import StepDraft  # noqa: E402
from tests.bench import pairs  # noqa: E402

# The database is in memory: nothing waits.
pair = functools.partial(pairs.pair, clock=time.process_time)
EVENTS_PER_BATCH = 10
START = dt.date(2026, 9, 12)


@public
def empty(request):
    return HttpResponse("")


urlpatterns = [path("empty/", empty), *urls.urlpatterns]


def fill(events: int) -> str:
    """A house with so many steps; the secret of a calendar address for them."""
    household.settle(name="Skelder Fold", time_zone="Europe/London")
    maker = household.add_person(username="maker", password=None, role="maker")
    recipe = recipes.add_recipe(name="Damson", product="still", by=maker)
    drafts = [
        StepDraft(key=str(n), title=f"rack {n}", offset_days=7 * n, notes="Keep the lees behind.")
        for n in range(EVENTS_PER_BATCH)
    ]
    version = recipes.add_version(recipe=recipe, steps=drafts, lines=[], by=maker)
    for _ in range(events // EVENTS_PER_BATCH):
        batches.plan(recipe_version=version, volume=4_500_000, start=START, by=maker)
    return feeds.make_token(
        person=maker, label="bench", content="steps", alarm_hours=None, by=maker
    )[1]


def by_hand(entries: list[feed.Entry]) -> bytes:
    """The least a program could do: the same bytes, escaped and folded without a library."""
    return "".join(map(_event_by_hand, entries)).encode()


def _event_by_hand(entry: feed.Entry) -> str:
    stamp = entry.stamp.strftime("%Y%m%dT%H%M%SZ")
    lines = (
        "BEGIN:VEVENT",
        f"UID:{entry.uid}@maythorn",
        f"DTSTAMP:{stamp}",
        f"LAST-MODIFIED:{stamp}",
        f"SEQUENCE:{entry.sequence}",
        f"DTSTART;VALUE=DATE:{entry.first:%Y%m%d}",
        f"DTEND;VALUE=DATE:{entry.last + feed.ONE_DAY:%Y%m%d}",
        f"SUMMARY:{_escaped(entry.summary)}",
        f"DESCRIPTION:{_escaped(entry.description)}",
        f"URL:{entry.url}",
        "STATUS:CONFIRMED",
        "TRANSP:TRANSPARENT",
        "END:VEVENT",
    )
    return "".join(map(_folded, lines))


def _escaped(text: str) -> str:
    return text.replace("\\", "\\\\").replace(";", "\\;").replace(",", "\\,").replace("\n", "\\n")


def _folded(line: str) -> str:
    if len(line.encode()) < 75:
        return f"{line}\r\n"
    parts, part, size = [], "", 0
    for letter in line:
        octets = len(letter.encode())
        if size + octets > 73:
            parts.append(part)
            part, size = "", 0
        part, size = part + letter, size + octets
    return "\r\n ".join([*parts, part]) + "\r\n"


def rendered(entries: list[feed.Entry]) -> bytes:
    return "".join(map(feed._text, entries)).encode()


def written_anew(entries: list[feed.Entry]) -> bytes:
    feed._text.cache_clear()
    return rendered(entries)


def measure_text(entries: list[feed.Entry]) -> None:
    assert by_hand(entries) == rendered(entries)
    print(f"{len(entries)} events, first full build: ", end="")
    pair(lambda: by_hand(entries), lambda: written_anew(entries), pairs=9)

    changes = iter(range(1, 10_000))

    def one_in_a_hundred() -> bytes:
        sequence = next(changes)
        return rendered(
            [
                entry._replace(sequence=sequence) if number % 100 == 0 else entry
                for number, entry in enumerate(entries)
            ]
        )

    print(f"{len(entries)} events, 1 % changed: ", end="")
    pair(lambda: by_hand(entries), one_in_a_hundred, pairs=21)
    print(f"{len(entries)} events, none changed: ", end="")
    pair(lambda: by_hand(entries), lambda: rendered(entries), pairs=21)


def measure_rows(entries: list[feed.Entry]) -> None:
    """From the database to bytes, against the rows alone."""
    rows = Step.objects.order_by("day").values_list(*feed.STEP_COLUMNS)
    steps = Step.objects.all()
    print(f"{len(entries)} events, rows to bytes over rows alone: ", end="")
    pair(lambda: list(rows.all()), lambda: feed.calendar(name="Bench", steps=steps), pairs=15)


def measure_unchanged(secret: str) -> None:
    client = Client()
    address = f"/feed/{secret}.ics"
    mark = client.get(address)["ETag"]
    status = client.get(address, headers={"If-None-Match": mark}).status_code

    print(f"unchanged feed ({status}) over an empty page: ", end="")
    pair(
        lambda: client.get("/empty/"),
        lambda: client.get(address, headers={"If-None-Match": mark}),
        pairs=51,
    )


def main() -> None:
    connection.creation.create_test_db(verbosity=0)
    events = int(sys.argv[1]) if len(sys.argv) > 1 else 1000
    with override_settings(
        ROOT_URLCONF="tests.bench.bench_feed", PRETEND_TODAY=START, ALLOWED_HOSTS=["testserver"]
    ):
        secret = fill(events)
        entries = feed.step_entries(feed.shown(Step.objects.all(), START), None)
        measure_text(entries)
        measure_rows(entries)
        measure_unchanged(secret)


if __name__ == "__main__":
    main()
