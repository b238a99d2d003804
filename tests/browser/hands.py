"""Two ways to use a page: with a pointer, and with the keyboard alone."""

from playwright.sync_api import Locator, Page, expect

from tests.browser import inspection

MOST_STOPS = 150


class Pointer:
    """Finds by role and label, and presses."""

    def __init__(self, page: Page):
        self.page = page

    def press(self, role: str, name: str) -> None:
        self.page.get_by_role(role, name=name).first.click()

    def write(self, label: str, text: str) -> None:
        self.page.get_by_label(label, exact=True).fill(text)

    def choose(self, label: str, choice: str) -> None:
        self.page.get_by_label(label, exact=True).select_option(label=choice)


class Keyboard:
    """Tab to go on, Enter and Space to press, letters to write; every stop must be seen."""

    def __init__(self, page: Page):
        self.page, self.faults = page, []

    def go_to(self, goal: Locator) -> None:
        """Tab from where the focus is until it is on the goal."""
        expect(goal).to_be_attached()
        for _ in range(MOST_STOPS):
            if goal.evaluate("stop => stop === document.activeElement"):
                return
            self.page.keyboard.press("Tab")
            fault = inspection.fault_of_focus(self.page)
            self.faults += [fault] if fault else []
        raise AssertionError(f"{goal} was not reached in {MOST_STOPS} stops")

    def press(self, role: str, name: str) -> None:
        self.go_to(self.page.get_by_role(role, name=name).first)
        self.page.keyboard.press("Space" if role == "button" else "Enter")

    def write(self, label: str, text: str) -> None:
        self.go_to(self.page.get_by_label(label, exact=True))
        self.page.keyboard.press("Control+A")
        self.page.keyboard.type(text)

    def choose(self, label: str, choice: str) -> None:
        self.go_to(self.page.get_by_label(label, exact=True))
        self.page.keyboard.type(choice)
