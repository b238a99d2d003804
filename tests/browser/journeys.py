"""The three things done most, in the words on the page, by whichever hand."""

from playwright.sync_api import expect


def heading(hand):
    return hand.page.get_by_role("heading", level=1)


def sign_in(hand, url):
    hand.page.goto(f"{url}/sign-in/")
    hand.write("Name", "maker")
    hand.write("Password", "hedge row 12 stile")
    hand.press("button", "Sign in")
    expect(heading(hand)).to_contain_text("Today")


def plan_a_batch(hand):
    hand.press("link", "Batches")
    expect(heading(hand)).to_have_accessible_name("Batches")
    hand.press("link", "Plan a batch")
    expect(heading(hand)).to_have_text("Plan a batch")
    hand.choose("Recipe", "Damson, version 1")
    hand.write("Volume of must", "18 L")
    hand.write("First day", "12 Sep 2026")
    hand.press("button", "Set it down")
    expect(heading(hand)).to_contain_text("Damson 2026")
    expect(hand.page.get_by_role("region", name="What it lacks")).to_contain_text("White sugar")


def receive_a_lot(hand):
    hand.press("link", "White sugar")
    expect(heading(hand)).to_contain_text("White sugar")
    hand.press("link", "Receive")
    expect(heading(hand)).to_have_text("Receive White sugar")
    hand.write("How much", "4 kg")
    hand.press("button", "Receive it")
    expect(hand.page.get_by_role("status")).to_contain_text("Received 4 kg of White sugar")


def tick_a_step(hand):
    hand.press("link", "Batches")
    expect(heading(hand)).to_have_accessible_name("Batches")
    hand.press("link", "Damson 2026")
    expect(heading(hand)).to_contain_text("Damson 2026")
    hand.press("link", "Done mash")
    expect(heading(hand)).to_have_text("Done: mash")
    hand.press("button", "It is done")
    expect(hand.page.get_by_role("status")).to_contain_text("mash")
    mash = hand.page.get_by_role("listitem").filter(
        has=hand.page.get_by_role("heading", name="mash", exact=True)
    )
    expect(mash).to_contain_text("done")
    expect(mash).to_contain_text("taken")


def all_three(hand, url):
    sign_in(hand, url)
    plan_a_batch(hand)
    receive_a_lot(hand)
    tick_a_step(hand)
