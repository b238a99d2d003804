"""The demo house stands on any day of its year, and nothing in it is untrue."""

import datetime as dt

import pytest

from inventory import audit
from planner import demo, harvest
from planner.models import Batch, Plant


@pytest.mark.parametrize("day", [dt.date(2026, 4, 6), dt.date(2026, 9, 12), dt.date(2027, 2, 1)])
def test_the_demo_house_is_true_to_itself(db, settings, day):
    settings.PRETEND_TODAY = day

    demo.build(today=day)

    assert [found.rule for found in audit.findings() if found.grave] == []
    assert Batch.objects.count() > 4


def test_its_meadowsweet_has_learned_from_five_years(db, settings):
    settings.PRETEND_TODAY = day = dt.date(2026, 6, 1)
    demo.build(today=day)
    house = harvest.Household.objects.get()

    window = harvest.window_on(Plant.objects.get(slug="meadowsweet"), house=house, on=day)

    words = [reason.words for reason in window.opening.reasons]
    assert words[1].startswith("5 own dates")
    assert "degree-days over" in words[2]
