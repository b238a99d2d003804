import getpass
from io import StringIO

import pytest
from django.core.management import call_command
from django.core.management.base import CommandError

from inventory import household
from inventory.models import Activity, Household, Person
from planner.models import Plant

pytestmark = pytest.mark.django_db
OPTIONS = {
    "name": "Skelder Fold",
    "time_zone": "Europe/London",
    "latitude_thousandths": "54.4",
    "height_m": "180",
    "keeper": "ruth",
}


def set_up(**options):
    said = StringIO()
    call_command("setup", stdout=said, stderr=said, **options)
    return said.getvalue()


@pytest.fixture
def typing(monkeypatch):
    """Answers the questions with these lines, and the password with these words."""

    def answer(lines, passwords):
        lines, passwords = iter(lines), iter(passwords)
        monkeypatch.setattr("builtins.input", lambda question: next(lines))
        monkeypatch.setattr(getpass, "getpass", lambda question: next(passwords))

    return answer


def test_a_new_house_stands_with_catalogue_settings_and_a_keepers_link():
    said = set_up(interactive=False, **OPTIONS)

    house = Household.objects.get()
    ruth = Person.objects.get()
    assert (house.name, house.time_zone, house.latitude_thousandths, house.height_m) == (
        "Skelder Fold",
        "Europe/London",
        54_400,
        180,
    )
    assert household.role_of(ruth) == "keeper"
    assert "http://127.0.0.1:8000/welcome/" in said
    assert Plant.objects.count() > 50


def test_the_printed_link_lets_the_keeper_choose_a_password(client):
    path = set_up(interactive=False, **OPTIONS).split("http://127.0.0.1:8000")[1].split()[0]

    page = client.get(path, follow=True)

    assert page.context["validlink"] is True
    assert "ruth" in page.content.decode()


def test_a_second_run_says_what_is_there_and_changes_nothing():
    set_up(interactive=False, **OPTIONS)
    before = Activity.objects.count()

    said = set_up(interactive=False, **OPTIONS | {"name": "Other"})

    assert "Skelder Fold is there already" in said
    assert "ruth is there already" in said
    assert Activity.objects.count() == before


def test_a_second_keeper_can_be_made_on_the_machine_itself():
    set_up(interactive=False, **OPTIONS)

    set_up(interactive=False, keeper="wilf")

    assert household.role_of(Person.objects.get(username="wilf")) == "keeper"


def test_questions_are_asked_again_until_the_answer_can_be_read(typing):
    lines = ["", "Skelder Fold", "London", "Europe/London", "", "95", "54,4", "", "feet", "us"]
    typing([*lines, "ruth m", "ruth"], ["short", "bramble over the wall", "bramble over the wall"])

    said = set_up()

    house = Household.objects.get()
    assert (house.country, house.latitude_thousandths, house.height_m) == ("GB", 54_400, 100)
    assert (house.units, Person.objects.get().units) == ("us", "us")
    assert "Time zone 'London' is not known" in said
    assert Person.objects.get().check_password("bramble over the wall")


def test_a_password_typed_two_ways_is_asked_for_again_and_none_gives_a_link(typing):
    typing(["Fold", "", "", "", "", "", "ruth"], ["bramble over the wall", "another one", ""])

    said = set_up()

    assert "The two differ" in said
    assert "/welcome/" in said
    assert not Person.objects.get().has_usable_password()


@pytest.mark.parametrize(
    ("options", "words"),
    [
        ({"name": None}, "Say --name"),
        ({"keeper": None}, "Say --keeper"),
        ({"time_zone": "Mars/Olympus"}, "is not known"),
        ({"latitude_thousandths": "91"}, "outside the range"),
        ({"keeper": "ruth m"}, "cannot be signed in with"),
    ],
)
def test_what_cannot_be_is_refused_and_no_half_house_stays(options, words):
    with pytest.raises(CommandError, match=words):
        set_up(interactive=False, **OPTIONS | options)

    assert not Household.objects.exists()
    assert not Person.objects.exists()
