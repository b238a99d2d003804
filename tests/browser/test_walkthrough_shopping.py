"""Walk-through 6 on the screen: what must be bought, by when."""

from playwright.sync_api import expect

WEEKS = {1: "2026-04-06", 5: "2026-05-04", 12: "2026-06-22"}


def send(page, button):
    """Press and wait until the page says what happened."""
    page.get_by_role("button", name=button).click()
    expect(page.get_by_role("button", name="Undo").first).to_be_visible()


def new_item(page, server, name, kind, counted, **typed):
    page.goto(f"{server.url}/items/add/")
    page.get_by_label("Name", exact=True).fill(name)
    page.get_by_label("Kind").select_option(label=kind)
    page.get_by_role("radio", name=counted).check()
    for label, text in typed.items():
        page.get_by_label(label.replace("_", " "), exact=True).fill(text)
    page.get_by_role("button", name="Add it").click()
    expect(page.get_by_role("heading", name=name, level=1)).to_be_visible()
    return page.url


def receive(page, item_url, quantity, use_by=""):
    page.goto(item_url)
    page.get_by_role("link", name="Receive", exact=True).click()
    page.get_by_label("How much", exact=True).fill(quantity)
    page.get_by_label("Use by").fill(use_by)
    send(page, "Receive it")


def need(page, item_url, quantity, day, label):
    page.goto(item_url)
    page.get_by_role("link", name="It will be needed").click()
    page.get_by_label("How much", exact=True).fill(quantity)
    page.get_by_label("Needed on").fill(day)
    page.get_by_label("What for").fill(label)
    send(page, "Note it")


def test_sugar_yeast_and_lemons_are_short_on_the_days_of_the_walk_through(signed_in, live_server):
    page = signed_in
    sugar = new_item(
        page, live_server, "White sugar", "ingredient", "by weight (g, kg)",
        Pack="1 kg", Always_keep="0.5 kg", Days_from_order_to_delivery="7",
    )  # fmt: skip
    receive(page, sugar, "3 kg")
    page.goto(sugar)
    page.get_by_role("link", name="It is on its way").click()
    page.get_by_label("How much", exact=True).fill("1 kg")
    page.get_by_label("Due").fill("27 Apr")
    send(page, "Expect it")
    for week, quantity in ((1, "2 kg"), (5, "2,6 kg"), (12, "1.8 kg")):
        need(page, sugar, quantity, WEEKS[week], f"week {week}")
    yeast = new_item(
        page, live_server, "Wine yeast", "yeast", "by the piece",
        Pack="2", Days_from_order_to_delivery="7", Word_for_one_piece="sachet",
    )  # fmt: skip
    receive(page, yeast, "1")
    for week, day in WEEKS.items():
        need(page, yeast, "1", day, f"week {week}")
    lemons = new_item(
        page, live_server, "Lemons", "ingredient", "by the piece",
        Days_from_order_to_delivery="7", Word_for_one_piece="lemon",
    )  # fmt: skip
    for week, quantity in ((1, "3"), (5, "4"), (12, "4")):
        need(page, lemons, quantity, WEEKS[week], f"week {week}")

    page.goto(f"{live_server.url}/shopping/")
    lines = page.get_by_role("listitem").filter(has=page.get_by_role("button"))
    wanted = [
        ("Lemons", "3 lemons", "overdue since Mon 30 Mar 2026", "week 1"),
        ("Lemons", "4 lemons", "order by Mon 27 Apr 2026", "week 5"),
        ("White sugar", "2 kg", "order by Mon 27 Apr 2026", "week 5"),
        ("Wine yeast", "2 sachets", "order by Mon 27 Apr 2026", "week 5"),
        ("Lemons", "4 lemons", "order by Mon 15 Jun 2026", "week 12"),
        ("White sugar", "1 kg", "order by Mon 15 Jun 2026", "week 12"),
    ]
    expect(lines).to_have_count(6)
    for line, words in zip(lines.all(), wanted, strict=True):
        for word in words:
            expect(line).to_contain_text(word)

    page.goto(sugar)
    days = page.get_by_role("row").filter(has_text="2026")
    for day, on_hand in (
        ("Mon 6 Apr 2026", "1 kg"),
        ("Mon 27 Apr 2026", "2 kg"),
        ("Mon 4 May 2026", "1.4 kg"),
        ("Mon 22 Jun 2026", "600 g"),
    ):
        expect(days.filter(has_text=day).first).to_contain_text(on_hand)
    page.goto(yeast)
    last = page.get_by_role("row").filter(has_text="Mon 22 Jun 2026").first
    expect(last).to_contain_text("0")


def test_yeast_that_expires_makes_the_first_pack_overdue(signed_in, live_server):
    page = signed_in
    yeast = new_item(
        page, live_server, "Wine yeast", "yeast", "by the piece",
        Pack="2", Days_from_order_to_delivery="7", Word_for_one_piece="sachet",
    )  # fmt: skip
    receive(page, yeast, "1", use_by="1 Apr 2026")
    for week, day in WEEKS.items():
        need(page, yeast, "1", day, f"week {week}")

    page.goto(f"{live_server.url}/shopping/")

    lines = page.get_by_role("listitem").filter(has=page.get_by_role("button"))
    expect(lines).to_have_count(2)
    expect(lines.nth(0)).to_contain_text("overdue since Mon 30 Mar 2026")
    expect(lines.nth(0)).to_contain_text("week 1; week 5")
    expect(lines.nth(1)).to_contain_text("order by Mon 15 Jun 2026")
    assert page.evaluate("window.broken") == []
