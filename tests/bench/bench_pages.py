"""How heavy, how soon painted, how steady and how costly is each page of a full demo house?

Run from the top of the project, with words of the names to narrow it:
DJANGO_SETTINGS_MODULE=tests.settings python -m tests.bench.bench_pages [season store ...]
Goals: at most 100 kB on a first visit (tests/browser holds every page to it), largest paint within 1 s
and shift at most 0.02 on a telephone, server time of a list at most 6 times that of an empty page.
"""

import datetime as dt
import functools
import os
import shutil
import statistics
import sys
import time

import django

django.setup()

from django.db import connection  # noqa: E402
from django.shortcuts import render  # noqa: E402
from django.test import Client, override_settings  # noqa: E402
from django.urls import path  # noqa: E402
from playwright.sync_api import Browser, sync_playwright  # noqa: E402

from inventory.access import access  # noqa: E402
from planner import demo, urls  # noqa: E402
from tests.bench import pairs  # noqa: E402
from tests.browser import demo_pages  # noqa: E402
from tests.browser.conftest import FLAGS  # noqa: E402
from tests.browser.demo_house import FULL_DAY, PHONE, House, serving  # noqa: E402
from tests.browser.inspection import Scales  # noqa: E402

# A telephone on a middling mobile network: 1.6 Mbit/s down, 0.75 up, 150 ms, a processor four times
# slower than the one this runs on; common practice of page audits, no source.
NETWORK = {
    "offline": False,
    "latency": 150,
    "downloadThroughput": 1_600_000 / 8,
    "uploadThroughput": 750_000 / 8,
}
SLOWER = 4
WATCH_PAINT = """
window.paint = 0;
window.shift = 0;
new PerformanceObserver(list => list.getEntries().forEach(one => { window.paint = one.startTime; }))
  .observe({ type: "largest-contentful-paint", buffered: true });
new PerformanceObserver(list => list.getEntries().forEach(one => { window.shift += one.value; }))
  .observe({ type: "layout-shift", buffered: true });
"""
TIMES = 3

pair = functools.partial(pairs.pair, clock=time.process_time, pairs=15)


@access(read="guest")
def empty(request):
    return render(request, "base.html")


urlpatterns = [path("empty/", empty), *urls.urlpatterns]


def look(browser: Browser, house: House, address: str) -> tuple[int, float, float, int]:
    """Bytes, milliseconds to the largest paint, shift and nodes of one first visit, slowed down."""
    window = browser.new_context(base_url=house.url, **PHONE)
    window.add_cookies([house.cookie("keeper")])
    window.add_init_script(WATCH_PAINT)
    page = window.new_page()
    scales = Scales(page)
    wire = window.new_cdp_session(page)
    wire.send("Network.enable")
    wire.send("Network.emulateNetworkConditions", NETWORK)
    wire.send("Emulation.setCPUThrottlingRate", {"rate": SLOWER})
    page.goto(address, wait_until="networkidle")
    for _ in range(50):
        if page.evaluate("window.paint"):
            break
        page.wait_for_timeout(100)
    page.wait_for_timeout(300)
    paint, shift, nodes = page.evaluate(
        "[window.paint, window.shift, document.querySelectorAll('*').length]"
    )
    window.close()
    return scales.bytes, paint, shift, nodes


def measure_looks(house: House, names: list[str]) -> None:
    print(f"{'page':34} {'bytes':>7} {'paint ms':>9} {'shift':>6} {'nodes':>6}")
    with sync_playwright() as player:
        browser = player.chromium.launch(executable_path=shutil.which("chromium"), args=FLAGS)
        for name in names:
            seen = [look(browser, house, house.addresses[name]) for _ in range(TIMES)]
            weight, paint, shift, nodes = map(statistics.median, zip(*seen, strict=True))
            print(f"{name:34} {weight:7.0f} {paint:9.0f} {shift:6.3f} {nodes:6.0f}")
        browser.close()


def measure_server(names: list[str]) -> None:
    """Each page over an empty one of the same house, signed in; the database is in memory."""
    connection.creation.create_test_db(verbosity=0)
    day = dt.date.fromisoformat(FULL_DAY)
    here = {"ROOT_URLCONF": "tests.bench.bench_pages", "ALLOWED_HOSTS": ["testserver"]}
    with override_settings(PRETEND_TODAY=day, **here):
        people = demo.build(today=day)
        demo_pages.Household.objects.update(living_page=True)
        client = Client()
        client.force_login(people["keeper"], backend="django.contrib.auth.backends.ModelBackend")
        for name in names:
            address = demo_pages.ALSO.get(name) or demo_pages.address_of(name)
            print(f"{name:34} ", end="")
            pair(lambda: client.get("/empty/"), lambda address=address: client.get(address))


def main() -> None:
    words = sys.argv[1:]
    pages = [*demo_pages.SIGNED_IN, *demo_pages.ALSO]
    names = [name for name in pages if not words or any(word in name for word in words)]
    with serving() as house:
        measure_looks(house, names)
    print(f"\nload of this machine {os.getloadavg()[0]:.1f}; server time over an empty page")
    measure_server(names)


if __name__ == "__main__":
    main()
