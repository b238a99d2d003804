"""The living page shows every component, to a keeper, when the house wants it."""

import re
from pathlib import Path

import pytest
from django.urls import reverse

COMPONENTS = Path("templates/components")


@pytest.fixture
def open_page(client, keeper, house):
    house.living_page = True
    house.save()
    client.force_login(keeper)
    return lambda: client.get(reverse("planner:living"))


def test_it_is_shut_unless_the_house_opens_it(client, keeper):
    client.force_login(keeper)

    assert client.get(reverse("planner:living")).status_code == 404


def test_it_shows_every_component(open_page):
    page = open_page()

    used = {part.name.split("/")[-1] for part in page.templates if part.name}
    made = {path.name for path in COMPONENTS.glob("_*.html")}
    assert made - used == set()


def test_no_element_carries_a_style_or_a_script_of_its_own(open_page):
    html = open_page().content.decode()

    assert not re.search(r"<[^>]+\sstyle=", html)
    assert not re.search(r"<[^>]+\son[a-z]+=", html)
    assert not re.search(r"<script(?![^>]*\ssrc=)", html)
    assert not re.search(r'(?:src|href)="(?:https?:)?//', html)


def test_ids_are_unique(open_page):
    ids = re.findall(r'\sid="([^"]+)"', open_page().content.decode())

    assert sorted({name for name in ids if ids.count(name) > 1}) == []


def test_a_form_sent_wrongly_comes_back_with_what_was_typed(client, open_page):
    open_page()

    page = client.post(reverse("planner:living"), {"name": "Sugar", "day": "31 Feb"})

    assert page.status_code == 422
    assert 'name="name" value="Sugar"' in page.content.decode()
    assert "31 Feb" in page.content.decode()


def test_a_form_sent_well_says_so(client, open_page):
    open_page()
    typed = {
        "name": "Sugar",
        "quantity": "2 kg",
        "day": "tomorrow",
        "kind": "running low",
        "keep": "dark",
    }

    page = client.post(reverse("planner:living"), typed, follow=True)

    assert "Received Sugar: a sample, nothing was stored." in page.content.decode()
