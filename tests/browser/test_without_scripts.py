"""Plan a batch, receive a lot, tick a step: with scripts switched off."""

import pytest

from tests.browser import journeys
from tests.browser.demo_house import DESK, PHONE
from tests.browser.hands import Pointer
from tests.planner.world import damson_version, sugar_line


@pytest.mark.parametrize("device", [PHONE, DESK], ids=["phone", "desk"])
def test_the_three_main_things_need_no_script(device, browser, live_server, maker, sugar):
    damson_version(maker, [sugar_line(sugar)])
    with browser.new_context(**device, java_script_enabled=False) as window:
        hand = Pointer(window.new_page())

        journeys.all_three(hand, live_server.url)
