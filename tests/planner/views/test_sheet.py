import datetime as dt

import pytest

from inventory import ledger
from inventory.models import StoragePlace


@pytest.fixture
def sheet_of(as_maker):
    return lambda **asked: as_maker.get("/calendar/day-sheet/", asked)


def words(page):
    return " ".join(page.content.decode().split())


def test_it_is_the_sheet_of_today_unless_another_day_is_asked_for(sheet_of, batch):
    today, asked = sheet_of(), sheet_of(day="12 Sep")

    assert "Day sheet, Mon 6 Apr 2026" in words(today)
    assert "Nothing is planned for Mon 6 Apr 2026." in words(today)
    assert "Day sheet, Sat 12 Sep 2026" in words(asked)
    assert "Keep the stones whole." in words(asked)


def test_a_day_that_cannot_be_read_is_said_and_nothing_is_lost(sheet_of, batch):
    page = sheet_of(day="31 Feb")

    assert page.status_code == 422
    assert 'value="31 Feb"' in words(page)
    assert 'role="alert"' in words(page)


def test_it_says_what_to_fetch_from_where_and_what_is_not_there(sheet_of, batch, sugar, maker):
    pantry = StoragePlace.objects.create(name="Pantry")
    ledger.receive(item=sugar, quantity=1_000_000, on=dt.date(2026, 4, 6), by=maker, place=pantry)

    page = words(sheet_of(day="12 Sep"))

    assert "1 kg White sugar, lot <a" in page
    assert ">WS-0001</a>, Pantry" in page
    assert "2402 g White sugar" in page
    assert "not on the shelf" in page


def test_today_and_the_calendar_lead_to_it(as_maker, batch):
    for path in ("/", "/calendar/"):
        assert 'href="/calendar/day-sheet/"' in as_maker.get(path).content.decode()
