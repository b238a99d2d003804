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


def test_the_threshold_of_warmth_is_passed_on_the_eleventh_day(page, live_server):
    page.goto(f"{live_server.url}/bench/")
    page.get_by_role("link", name="Warm enough").click()
    page.get_by_label("Daily means, °C").fill("11 12 14 13 15 16 14 17 18 16 15 17")
    page.get_by_label("Threshold, degree-days").fill("100")
    answer = page.get_by_role("region", name="Answer")

    expect(answer).to_contain_text(re.compile(r"Reached on day\s+11"))
    expect(answer).to_contain_text(re.compile(r"The sum then\s+106.0 degree-days"))


def test_a_weather_file_is_brought_looked_at_and_taken_in(page, live_server):
    rows = [f"2025-{month:02}-{day:02},1.5,8.5" for month in (1, 2) for day in range(1, 29)]
    data = "\n".join(["date,tmin,tmax", *rows, "2025-03-01,9,8"]).encode()
    page.goto(f"{live_server.url}/weather/")
    page.get_by_role("link", name="Usual months").click()
    page.get_by_label("A station of the table").select_option("Durham")
    page.get_by_role("button", name="Take them").click()
    page.get_by_role("link", name="Bring a file").click()
    page.get_by_label("Weather file").set_input_files(
        {"name": "beck.csv", "mimeType": "text/csv", "buffer": data}
    )
    page.get_by_role("button", name="Look at it").click()
    main = page.get_by_role("main")
    expect(main).to_contain_text("Nothing counts yet")
    expect(main).to_contain_text("Left out: 1 that have a lowest above their highest.")

    page.get_by_role("button", name="Take it in").click()

    expect(page.get_by_role("status")).to_contain_text("Took in the weather of beck.csv")
    # Two months are no year: their warmth is not shown as one.
    expect(main).to_contain_text(re.compile(r"2025\s+.*56\s+.*309\s+.*not known", re.DOTALL))
    page.get_by_role("button", name="Undo").first.click()
    expect(main).to_contain_text(re.compile(r"State\s*taken back"))


def test_a_table_of_goods_is_pasted_mended_and_taken_in(page, live_server, sugar):
    page.goto(f"{live_server.url}/store/")
    page.get_by_role("link", name="Bring a table").click()
    page.get_by_label("Or the table itself").fill("Item;How much\nWhite sugar;2 kg\nSalt;1 kg")
    page.get_by_role("button", name="Look it through").click()
    main = page.get_by_role("main")
    expect(main).to_contain_text("Item: “Salt” is not known here.")

    page.get_by_label("Or the table itself").fill("Item;How much\nWhite sugar;2 kg")
    page.get_by_role("button", name="Look it through").click()
    expect(main).to_contain_text("1 row, all of them good. Nothing is written yet.")
    page.get_by_role("button", name="Take all of it in").click()

    expect(page.get_by_role("status")).to_contain_text("1 lot came in.")


def test_a_bag_is_frozen_and_that_is_taken_back(page, live_server, sugar, maker):
    lot = ledger.receive(item=sugar, quantity=2_000_000, on=dt.date(2026, 4, 1), by=maker)
    page.goto(f"{live_server.url}{lot.get_absolute_url()}")
    page.get_by_role("link", name="Freeze, dry or split").click()
    page.get_by_label("dried").check()
    page.get_by_label("How much of it").fill("1 kg")
    page.get_by_label("What it comes to").fill("200 g")
    page.get_by_role("button", name="It is done").click()
    expect(page.get_by_role("status")).to_contain_text("20%")

    page.get_by_role("button", name="Undo").first.click()

    expect(page.get_by_role("status")).to_contain_text("Undone: 1 kg of White sugar")


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
