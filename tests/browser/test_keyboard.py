"""Plan a batch, receive a lot, tick a step: with Tab, Enter, Space and letters alone."""

import pytest

from tests.browser import journeys
from tests.browser.demo_house import DESK, PHONE
from tests.browser.hands import Keyboard
from tests.planner.world import damson_version, sugar_line


@pytest.mark.parametrize("device", [PHONE, DESK], ids=["phone", "desk"])
def test_the_keyboard_alone_does_the_three_main_things(device, browser, live_server, maker, sugar):
    damson_version(maker, [sugar_line(sugar)])
    with browser.new_context(**device) as window:
        hand = Keyboard(window.new_page())

        journeys.all_three(hand, live_server.url)

        assert hand.faults == []
