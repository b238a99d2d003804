import datetime as dt

import pytest

from inventory.models import Item
from planner.models import Plant
from planner.plants import load_catalogue


@pytest.fixture
def catalogue(house):
    load_catalogue()


def test_every_plant_page_shows_its_hazard_and_look_alikes(as_maker, catalogue):
    page = as_maker.get("/plants/elderflower/").content.decode()

    assert "strip florets" in page
    assert "hemlock umbels" in page


@pytest.mark.parametrize("slug", ["warn_broom", "warn_knotweed", "alexanders", "elderberry"])
def test_hazardous_plants_open_with_the_caution(slug, as_maker, catalogue):
    page = as_maker.get(f"/plants/{slug}/").content.decode()

    caution = min(page.find("Read this first") % 10**9, page.find("Do not pick or use") % 10**9)
    assert caution < page.find('id="window"')


def test_no_page_of_the_season_calls_a_plant_safe(as_maker, catalogue):
    pages = [as_maker.get(path).content.decode() for path in ("/season/", "/plants/elderflower/")]

    assert not any(" safe" in page.lower() for page in pages)


def test_the_season_shows_windows_over_new_year(as_maker, catalogue, settings):
    settings.PRETEND_TODAY = dt.date(2027, 1, 5)

    page = as_maker.get("/season/").content.decode()

    assert "Parsnip" in page.split("Open now")[1].split("Still to come")[0]


def test_the_season_takes_a_fixed_number_of_queries(
    as_maker, catalogue, django_assert_max_num_queries
):
    with django_assert_max_num_queries(12):
        as_maker.get("/season/?all=1")


def test_the_season_draws_what_the_store_keeps_and_every_plant_if_asked(as_maker, catalogue):
    rhubarb = Item.objects.create(name="Rhubarb", kind="foraged", base="mg")
    Plant.objects.filter(slug="rhubarb").update(item=rhubarb)

    own, every = (as_maker.get(path).context["picture"] for path in ("/season/", "/season/?all=1"))

    assert {fact.cells[0] for fact in own.facts} == {"Rhubarb"}
    assert {"Rhubarb", "Alexanders", "Damson"} <= {fact.cells[0] for fact in every.facts}


def test_a_store_that_keeps_no_plant_draws_none(as_maker, catalogue):
    page = as_maker.get("/season/").content.decode()

    assert "The store keeps nothing yet that is picked." in page
    assert 'href="/season/?all=1"' in page
