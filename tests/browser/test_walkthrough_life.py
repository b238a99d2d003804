"""Walk-throughs 5, 7, 9, 10, 11 and 12 on a phone: one damson batch from the plan to still twice, and a
fizz from its glass to the last bottle."""

import datetime as dt
import re

import pytest
from playwright.sync_api import expect

from inventory import ledger, vessels
from inventory.models import Item
from planner.recipes import LineDraft
from tests.browser.conftest import PHONE
from tests.conftest import KILO, PIECE
from tests.planner.glass_world import BOTTLED, furnish, quiet_batch, sugar_lot
from tests.planner.test_vessel_choice import YEAR, book, jarred
from tests.planner.world import SATURDAY, damson_version, yeast_line

SUNDAY = SATURDAY + dt.timedelta(days=1)


@pytest.fixture
def page(signed_in):
    signed_in.set_viewport_size(PHONE)
    return signed_in


def region(page, name):
    return page.get_by_role("region", name=name)


def step_of(page, title):
    return page.locator(".steps > .step").filter(
        has=page.get_by_role("heading", name=title, exact=True)
    )


def said(page, words):
    expect(page.get_by_role("status").first).to_contain_text(words)


def do(page, title, **typed):
    """Open a step's form from the batch, write what is given by label, and say that it is done."""
    step_of(page, title).get_by_role("link", name="Done").click()
    for label, text in typed.items():
        page.get_by_label(label.replace("_", " "), exact=True).fill(text)
    page.get_by_role("button", name="It is done").click()


@pytest.fixture
def damson(maker, sugar, yeast, house):
    """A recipe with enzyme, of which none is there, and a yeast that bears 30 degrees."""
    yeast.coolest_c, yeast.warmest_c = 15, 30
    yeast.save()
    enzyme = Item.objects.create(name="Pectic enzyme", kind="additive", base="mg")
    lines = [
        LineDraft(item=sugar, step="mash", basis="per_litre", amount=189_000),
        LineDraft(item=enzyme, step="yeast", basis="fixed", amount=5_000),
        yeast_line(yeast),
    ]
    version = damson_version(maker, lines)
    ledger.receive(item=sugar, quantity=5 * KILO, on=SATURDAY, by=maker)
    ledger.receive(item=yeast, quantity=2 * PIECE, on=SATURDAY, by=maker)
    for name, kind, litres in (
        ("Large bucket", "open", 27.3),
        *((f"Jar {n}", "closed", 4.75) for n in range(1, 5)),
    ):
        vessels.add_vessel(by=maker, name=name, kind=kind, brimful=round(litres * 1_000_000))
    return version


def test_the_life_of_a_damson_batch_from_plan_to_still_twice(page, live_server, damson, settings):
    settings.PRETEND_TODAY = SATURDAY
    page.goto(f"{live_server.url}/batches/add/")
    page.get_by_label("Recipe").select_option(label="Damson, version 1")
    page.get_by_label("Volume of must").fill("18 L")
    page.get_by_label("First day").fill("12 Sep 2026")
    page.get_by_role("button", name="Set it down").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Damson 2026")
    home = page.url

    do(
        page,
        "mash",
        How_much_there_is_now="18 L",
        Gravity="1.078",
        Temperature_of_the_sample="34 C",
    )
    expect(region(page, "Its book")).to_contain_text("1.0826")
    expect(page.get_by_role("main")).to_contain_text("How much there is")

    settings.PRETEND_TODAY = SUNDAY
    page.goto(home)
    do(page, "enzyme and yeast", How_warm_the_must_is="34 C")
    expect(page.get_by_role("alert")).to_contain_text("34 °C is over the yeast's 30 °C")
    page.get_by_label("How warm the must is").fill("24 C")
    page.get_by_role("button", name="It is done").click()
    expect(page.get_by_role("alert")).to_contain_text("5 g of Pectic enzyme")
    page.get_by_label("It was done without what is missing").check()
    page.get_by_label("Remark").fill("the shop was shut")
    page.get_by_role("button", name="It is done").click()
    said(page, "enzyme and yeast")
    expect(page.get_by_role("heading", level=1)).to_contain_text("working")

    for day, title, litres in (
        (dt.date(2026, 9, 19), "press", "17.0 L"),
        (dt.date(2026, 10, 10), "rack", "16.4 L"),
        (dt.date(2026, 12, 12), "rack again", "16.2 L"),
    ):
        settings.PRETEND_TODAY = day
        page.goto(home)
        do(page, title, How_much_there_is_now=litres)
        said(page, title)

    for day, title in ((dt.date(2027, 1, 9), "check"), (dt.date(2027, 1, 12), "check again")):
        settings.PRETEND_TODAY = day
        page.goto(home)
        do(page, title, Gravity="0,995", Temperature_of_the_sample="20 C")
    expect(region(page, "Its book")).to_contain_text("still twice")
    expect(page.get_by_role("main")).to_contain_text("16.2 L")

    page.get_by_role("link", name="How much there is").click()
    ledger_text = page.get_by_role("main").inner_text()
    for words in ("must made", "left in the fruit", "left on the lees"):
        assert words in ledger_text
    page.goto(home)
    page.get_by_role("link", name="what went in and what it cost").click()
    expect(page.get_by_role("main")).to_contain_text("White sugar")


@pytest.fixture
def fizz(page, live_server, maker, sugar, settings, house):
    """On the batch of the worked example, with its glass in the house."""
    settings.PRETEND_TODAY = BOTTLED
    furnish()
    sugar_lot(sugar, maker)
    batch = quiet_batch(maker)
    page.goto(f"{live_server.url}{batch.get_absolute_url()}")
    return batch


LOWER = "Give each kind of bottle no more than four fifths of its rating"
DIRTY = "Count the dirty bottles, to be washed before"


def plan_bottles(page, place, *, lower, with_dirty):
    page.get_by_label("Where it will lie").select_option(label=place)
    page.get_by_label("Fizz wanted, in volumes").fill("3")
    page.get_by_label("Warmest it has been since it was quiet").fill("18 C")
    page.get_by_label("Strength, % vol").fill("11.3")
    page.get_by_label("Taken as a sample").fill("150 mL")
    page.get_by_label("Left in hose and vessel").fill("100 mL")
    page.get_by_label(LOWER).set_checked(lower)
    page.get_by_label(DIRTY).set_checked(with_dirty)
    page.get_by_role("button", name="Work out the bottles").click()


def test_the_fill_plan_doses_and_pressures_stand_on_the_phone(page, fizz):
    step_of(page, "Bottle with fizz").get_by_role("link", name="Bottle it").click()

    plan_bottles(page, "Sun room", lower=False, with_dirty=True)

    plan = page.locator("section").filter(has=page.get_by_role("heading", name="18 bottles"))
    doses = (("Fizz 750", 7, "6.4"), ("Crown 500", 1, "4.2"), ("Crown 330", 10, "2.8"))
    for name, count, dose in doses:
        row = plan.get_by_role("listitem").filter(has_text=f"{count} × {name}")
        expect(row).to_contain_text(f"Sugar in each\n{dose}", use_inner_text=True)
    stopped = plan.get_by_role("listitem").filter(has_text="Crown 500")
    expect(stopped).to_contain_text("is over the bottle")
    expect(page.get_by_role("img", name="Pressure in Crown")).to_be_visible()


def test_bottles_are_counted_as_they_are_filled_and_a_page_loaded_again_remembers(page, fizz):
    step_of(page, "Bottle with fizz").get_by_role("link", name="Bottle it").click()
    plan_bottles(page, "Under the stairs", lower=True, with_dirty=False)
    box = page.get_by_role("group", name=re.compile("Fizz 750")).get_by_label("Filled")
    more = page.get_by_role("button", name="One more Fizz 750")
    for _ in range(3):
        more.click()
    expect(box).to_have_value("3")

    page.reload()

    expect(box).to_have_value("3")
    more.click()
    expect(box).to_have_value("4")


def fill_and_lie_down(page):
    step_of(page, "Bottle with fizz").get_by_role("link", name="Bottle it").click()
    plan_bottles(page, "Under the stairs", lower=True, with_dirty=False)
    for kind, count in (("Fizz 750", "6"), ("Crown 500", "6"), ("Crown 330", "2")):
        page.get_by_role("group", name=re.compile(kind)).get_by_label("Filled").fill(count)
    page.get_by_label("Priming sugar out of").select_option(index=1)
    page.get_by_role("button", name="They are filled").click()
    said(page, "Filled 14 bottles")


def test_a_fizz_is_filled_tried_opened_and_judged_anew(page, fizz, live_server, settings):
    fill_and_lie_down(page)
    expect(region(page, "Bottles")).to_contain_text("6 of 6 left")

    settings.PRETEND_TODAY = BOTTLED + dt.timedelta(days=14)
    page.goto(live_server.url)
    cellar = region(page, "In the cellar")
    expect(cellar).to_contain_text("Crown 330")
    cellar.get_by_role("link", name="Opened").click()
    page.get_by_role("button", name="Write it down").click()
    said(page, "Opened as a test")

    settings.PRETEND_TODAY = BOTTLED + dt.timedelta(days=28)
    page.goto(f"{live_server.url}/cellar/")
    first = region(page, "Open first")
    first.get_by_role("link", name="Open one of Gorse fizz 2026, Fizz 750").click()
    page.get_by_label("How many bottles").fill("2")
    page.get_by_role("button", name="Write it down").click()
    expect(page.get_by_role("main")).to_contain_text("4 of 6")

    page.goto(f"{live_server.url}/places/")
    row = page.get_by_role("row", name=re.compile("Under the stairs"))
    row.get_by_role("link", name="Change").click()
    page.get_by_label(re.compile("warmest", re.IGNORECASE)).fill("34")
    page.get_by_role("button", name="Save").click()
    said(page, "Under the stairs")
    page.goto(f"{live_server.url}/cellar/")
    expect(region(page, "Beware of these")).to_contain_text("Crown 500")


def test_a_fizz_is_tasted_looked_back_at_and_shared_out(page, fizz, live_server):
    fill_and_lie_down(page)
    region(page, "Bottles").get_by_role("link", name="Fizz 750").click()
    page.get_by_role("link", name="How was it?").click()
    page.get_by_label("very good").check()
    page.get_by_label("clear").check()
    page.get_by_label("To do better next time").fill("a week longer")
    page.get_by_role("button", name="That is how it was").click()
    said(page, "Tasted")

    page.goto(f"{live_server.url}{fizz.get_absolute_url()}back/")
    main = page.get_by_role("main")
    expect(main).to_contain_text("a week longer")
    page.get_by_label("Bottles to share").fill("34")
    page.get_by_label("Who brought how much").fill("Ash 42, Bea 27, Cob 30")
    page.get_by_role("button", name="Share them").click()
    for words in ("Ash 14.42 exactly", "15 bottles", "Bea 9.27 exactly", "Cob 10.30 exactly"):
        expect(main).to_contain_text(words)


def test_a_year_of_jars_is_two_over_and_says_when_crab_apple_can_begin(
    page, live_server, maker, house, settings
):
    settings.PRETEND_TODAY = dt.date(2026, 4, 6)
    jars = [
        vessels.add_vessel(by=maker, name=f"Jar {n}", kind="closed", brimful=4_750_000)
        for n in range(1, 7)
    ]
    last = None
    for name, count, begins, ends in YEAR:
        last = jarred(maker, name, count, begins, ends)
        book(last, jars[:count] if name != "Bramble" else jars[4:], maker)

    page.goto(f"{live_server.url}/vessels/year/")
    expect(page.get_by_role("main")).to_contain_text(re.compile("8 .*(of|over|wanted)", re.DOTALL))
    page.goto(f"{live_server.url}{last.get_absolute_url()}vessels/")
    expect(page.get_by_role("main")).to_contain_text("is wanted twice from Sat 17 Oct 2026")
    expect(page.get_by_role("main")).to_contain_text("on Sat 23 Jan 2027")
