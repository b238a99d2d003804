"""The main job on the screen: plan, see what is short, receive, take the days away, move a step."""

import re
import urllib.request

import icalendar
from playwright.sync_api import expect

from tests.planner.world import damson_version, sugar_line, yeast_line


def plan_damson(page, server):
    page.goto(f"{server.url}/batches/add/")
    page.get_by_label("Recipe").select_option(label="Damson, version 1")
    page.get_by_label("Volume of must").fill("18 L")
    page.get_by_label("First day").fill("12 Sep 2026")
    page.get_by_role("button", name="Set it down").click()
    expect(page.get_by_role("heading", level=1)).to_contain_text("Damson 2026")
    return page.url


def make_feed(page, server):
    page.goto(f"{server.url}/calendar/")
    page.get_by_label("Which calendar is it for?").fill("my phone")
    page.get_by_role("button", name="Make an address").click()
    expect(page.get_by_role("heading", name="shown this once")).to_be_visible()
    found = re.search(r"/feed/[\w-]{43}\.ics", page.get_by_role("main").inner_text())
    return server.url + found.group()


def events_at(address):
    with urllib.request.urlopen(address) as response:
        events = icalendar.Calendar.from_ical(response.read()).walk("VEVENT")
    return {str(event["uid"]): event for event in events}


def days_of(events):
    return sorted(f"{event['dtstart'].dt:%d %b %Y}" for event in events.values())


def test_a_year_is_planned_bought_for_and_taken_away(signed_in, live_server, maker, sugar, yeast):
    page = signed_in
    damson_version(maker, [sugar_line(sugar), yeast_line(yeast)])
    batch = plan_damson(page, live_server)

    lacks = page.get_by_role("region", name="What it lacks")
    expect(lacks).to_contain_text("White sugar")
    expect(lacks).to_contain_text("order by Sat 5 Sep 2026")
    page.goto(f"{live_server.url}/shortfalls/")
    expect(page.get_by_role("main")).to_contain_text("Damson 2026")
    page.goto(f"{live_server.url}/shopping/")
    bought = page.get_by_role("button", name=re.compile("It is in the house"))
    for left in (2, 1, 0):
        bought.first.click()
        expect(bought).to_have_count(left)
    page.goto(f"{live_server.url}/shortfalls/")
    expect(page.get_by_role("main")).to_contain_text("Everything planned is covered")
    page.goto(batch)
    expect(page.get_by_role("main")).to_contain_text("Everything it needs is on the shelf")

    with page.expect_download() as download:
        page.get_by_role("link", name="Its calendar").click()
    assert download.value.suggested_filename == "damson-2026.ics"
    feed = make_feed(page, live_server)
    before = events_at(feed)
    assert len(before) == 10

    page.goto(batch)
    page.get_by_role("link", name=re.compile("Move.*press")).click()
    page.get_by_label("New day").fill("21 Sep 2026")
    page.get_by_role("button", name="Move it").click()
    expect(page.get_by_role("status")).to_contain_text("Mon 21 Sep 2026")

    after = events_at(feed)
    moved = {uid for uid in before if after[uid]["sequence"] == before[uid]["sequence"] + 1}
    assert before.keys() == after.keys()
    assert len(moved) == 8
    assert all(
        after[uid]["dtstart"].dt == before[uid]["dtstart"].dt for uid in before.keys() - moved
    )
    assert days_of(after) == sorted(
        [
            "12 Sep 2026",
            "13 Sep 2026",
            "21 Sep 2026",
            "12 Oct 2026",
            "14 Dec 2026",
            "11 Jan 2027",
            "14 Jan 2027",
            "14 Jan 2027",
            "25 Jan 2027",
            "24 Jul 2027",
        ]
    )
    page.goto(batch)
    page.get_by_role("button", name="Drop this batch").click()
    expect(page.get_by_role("status")).to_contain_text("Damson 2026")
    dropped = events_at(feed)
    assert {str(event["status"]) for event in dropped.values()} == {"CANCELLED"}
    page.get_by_role("button", name="Undo").first.click()
    expect(page.get_by_role("status")).to_contain_text("Undone")
    assert {str(event["status"]) for event in events_at(feed).values()} == {"CONFIRMED"}
    assert page.evaluate("window.broken") == []
