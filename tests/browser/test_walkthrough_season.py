"""Walk-throughs 1 and 3 on a phone: when it will open, and which bag is opened first."""

import datetime as dt
import re

import pytest
from playwright.sync_api import expect

from inventory import items, ledger, places, vessels
from planner.models import Plant
from planner.plants import load_catalogue
from tests.browser.conftest import PHONE

SEEN = ("28 Jun 2021", "20 Jun 2022", "24 Jun 2023", "16 Jun 2024", "22 Jun 2025")


@pytest.fixture
def page(signed_in):
    signed_in.set_viewport_size(PHONE)
    return signed_in


def test_when_will_the_meadowsweet_open(page, live_server, maker):
    load_catalogue()
    plant = Plant.objects.get(slug="meadowsweet")
    page.goto(f"{live_server.url}{plant.get_absolute_url()}")
    page.get_by_role("link", name="What we say of it").click()
    page.get_by_label("Open for so many days here").fill("21")
    page.get_by_role("button", name="Save").click()
    for day in SEEN:
        page.get_by_role("link", name="How is it today?").click()
        page.get_by_label("open", exact=True).check()
        page.get_by_label("Seen on").fill(day)
        page.get_by_label("It was looked at the day before").check()
        page.get_by_role("button", name="That is how it is").click()
        expect(page.get_by_role("status")).to_contain_text("Saw Meadowsweet open")
    page.goto(f"{live_server.url}/busy/add/")
    page.get_by_label("What it is").fill("away")
    page.get_by_label("From").fill("27 Jun 2026")
    page.get_by_label("Until").fill("5 Jul 2026")
    page.get_by_role("button", name="Keep them free").click()

    page.goto(f"{live_server.url}{plant.get_absolute_url()}")

    record = page.get_by_role("region", name="This house's own record")
    for label, day in (("Earliest", "16 Jun"), ("Median", "22 Jun"), ("Latest", "28 Jun")):
        expect(record).to_contain_text(re.compile(rf"{label}\s+\w+ {day}"))
    days = page.get_by_role("region", name="Days to go and pick")
    expect(days).to_contain_text("Mon 22 Jun 2026 to Sun 12 Jul 2026")
    expect(days).to_contain_text(
        "12 pickable days; weekend days left: Sat 11 Jul 2026, Sun 12 Jul 2026"
    )
    expect(days).to_contain_text(re.compile(r"By the forecast\s+used on these pages"))
    when = page.get_by_role("region", name="When: its harvest window")
    expect(when).to_contain_text("In four years of five it opens from")
    when.get_by_text("What moved this forecast").click()
    expect(when).to_contain_text("5 own dates")


def test_the_oldest_bag_is_opened_first(page, live_server, maker):
    bramble = items.add_item(by=maker, name="Bramble", kind="foraged", base="mg")
    freezer = places.add_place(by=maker, name="Freezer")
    for day, grams in ((dt.date(2025, 9, 14), 1500), (dt.date(2025, 10, 2), 1250)):
        ledger.receive(
            item=bramble,
            quantity=grams * 1000,
            on=day,
            place=freezer,
            use_by=day.replace(year=2026),
            by=maker,
        )
    page.goto(f"{live_server.url}/requirements/add/?item={bramble.pk}")
    page.get_by_label("How much").fill("2000 g")
    page.get_by_label("Needed on").fill("1 Sep 2026")
    page.get_by_label("What for").fill("wine")
    page.get_by_role("button", name="Note it").click()
    main = page.get_by_role("main")

    # 2000 g by 1 September: all of the older bag, 500 g of the other, 750 g left.
    expect(main).to_contain_text("1.5 kg from BR-0001, 500 g from BR-0002")
    expect(main).not_to_contain_text("750 g short")

    page.get_by_role("link", name="Another day").click()
    page.get_by_label("New day").fill("20 Sep 2026")
    page.get_by_role("button", name="Move it").click()

    # By then the older bag is past its twelve months.
    expect(main).to_contain_text("1.25 kg from BR-0002; 750 g short")


def test_will_it_fit_in_bucket_and_jars(page, live_server, maker):
    for name, kind, brimful in (
        ("Small bucket", "open", 19_600),
        ("Large bucket", "open", 27_300),
        *((f"Jar {n}", "closed", 4_750) for n in range(1, 7)),
        ("Little jar", "closed", 3_000),
    ):
        vessels.add_vessel(by=maker, name=name, kind=kind, brimful=brimful * 1000)
    page.goto(f"{live_server.url}/vessels/year/")
    page.get_by_role("link", name="Will it fit?").click()
    page.get_by_label("Must with its fruit in it").fill("20.4 L")
    page.get_by_label("After pressing").fill("18 L")
    page.get_by_label("Left behind as lees, %").fill("6")
    page.get_by_role("button", name="Show").click()
    main = page.get_by_role("main")

    expect(main).to_contain_text(re.compile(r"Small bucket.*16.66 L usable: too small", re.DOTALL))
    expect(main).to_contain_text(re.compile(r"Large bucket.*23.2\d* L usable: holds it", re.DOTALL))
    expect(main).to_contain_text("16.92 L after the racking")
    expect(main).to_contain_text(re.compile(r"3 of 4.75 L\s*full"))
    expect(main).to_contain_text(re.compile(r"1 of 3 L\s*2.67 L in the last"))
    expect(main).to_contain_text("with 330 mL")
