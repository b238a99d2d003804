"""The cellar through its pages: labels, openings, tastings, and what a guest sees."""

import datetime as dt
import re

import pytest

from inventory import cellar
from inventory.models import CellarLot
from planner import bottling
from planner.bottling import Done
from planner.bottling_plan import Wish
from planner.models import Batch, Tasting
from tests.inventory.views.reading import text_of
from tests.planner.glass_world import BOTTLED, furnish, quiet_batch, sugar_lot


@pytest.fixture
def there(settings, house):
    settings.PRETEND_TODAY = BOTTLED
    return furnish()


@pytest.fixture
def lot(there, maker, sugar, settings):
    wish = Wish(
        is_fizzy=True, volumes=3.0, warmest_c=18.0, abv=11.3, lower=True, place=there["stairs"]
    )
    done = Done(counts={there["750"].pk: 6}, priming_lot=sugar_lot(sugar, maker))
    bottling.bottle(batch=quiet_batch(maker), wish=wish, done=done, on=BOTTLED, by=maker)
    settings.PRETEND_TODAY = BOTTLED + dt.timedelta(days=30)
    return CellarLot.objects.get()


def test_an_empty_cellar_says_what_will_lie_there(as_maker):
    assert "No bottle lies here yet" in text_of(as_maker.get("/cellar/"))


def test_a_bottle_is_opened_by_the_form(as_maker, lot, there):
    typed = {"fate": "opened", "count": "2", "where": there["stairs"].pk, "on": "today", "note": ""}

    as_maker.post(f"/cellar/{lot.pk}/take/", typed)

    said = text_of(as_maker.get("/cellar/"))
    assert "4 bottles" in said
    assert "Open first" in said


@pytest.mark.parametrize(
    "typed",
    [
        {"count": "7"},
        {"count": "0"},
        {"count": "-1"},
        {"where": "999"},
        {"on": "31 Feb"},
        {"fate": "drunk"},
    ],
)
def test_what_cannot_be_opened_is_refused_at_its_box(as_maker, lot, there, typed):
    usual = {"fate": "opened", "count": "1", "where": there["stairs"].pk, "on": "today"}

    assert as_maker.post(f"/cellar/{lot.pk}/take/", usual | typed).status_code == 422
    assert lot.lines.count() == 1


def test_bottles_move_by_the_form(as_maker, lot, there):
    typed = {
        "count": "2",
        "where": there["stairs"].pk,
        "target": there["sun room"].pk,
        "on": "today",
    }

    as_maker.post(f"/cellar/{lot.pk}/move/", typed)

    assert re.search(
        r"Sun room 2 4\.\d\d bar at 30 °C", text_of(as_maker.get(lot.get_absolute_url()))
    )


def test_a_tasting_is_written_and_stands_with_its_batch(as_maker, lot):
    typed = {
        "on": "today",
        "liking": "4",
        "words": "Gorse on the nose",
        "came_true": ["clear"],
        "again": "yes",
    }

    as_maker.post(f"/cellar/{lot.pk}/taste/", typed)

    row = Tasting.objects.get()
    assert (row.wishes["clear"], row.wishes["lasting"], row.again) == (True, False, True)
    said = text_of(as_maker.get(Batch.objects.get().get_absolute_url()))
    assert "Gorse on the nose" in said


def test_labels_come_as_a_file_with_their_warnings(as_maker, lot):
    page = f"/cellar/{lot.pk}/labels/"
    asked = "?name=Gorse+fizz&text=Of+the+hedge&grid=a4-3-7&first=2&count=6&code=on"

    said = text_of(as_maker.get(page + asked))
    pdf = as_maker.get(page + asked + "&format=pdf")

    assert "Under pressure: keep cool and upright" in said
    assert pdf["Content-Type"] == "application/pdf"
    assert pdf.content.startswith(b"%PDF")


@pytest.mark.parametrize(
    "asked",
    [
        "name=X&grid=a4-3-7&first=99&count=1",
        "name=&grid=a4-3-7&first=1&count=1",
        "name=X&grid=none&first=1&count=1",
    ],
)
def test_a_sheet_that_cannot_be_says_why(as_maker, lot, asked):
    assert as_maker.get(f"/cellar/{lot.pk}/labels/?{asked}").status_code == 422


@pytest.mark.parametrize("more", [0, 60])
def test_the_cellar_takes_the_same_queries_whatever_it_holds(
    as_maker, lot, more, django_assert_num_queries
):
    first = CellarLot.objects.get()
    for number in range(more):
        other = CellarLot.objects.get(pk=first.pk)
        other.pk, other.mark, other._state.adding = None, f"X-{number}", True
        other.save()
        cellar.write_line(other, None, "laid", 1, other.bottled, None)

    with django_assert_num_queries(8):
        as_maker.get("/cellar/")
