import pytest

from inventory import household
from inventory.models import Activity, Person

PASSWORD = "hedge row 12 stile"


@pytest.fixture
def keepers_client(client, keeper):
    client.force_login(keeper)
    return client


def test_a_new_person_comes_in_without_a_password_and_leads_to_their_link(keepers_client):
    sent = {"username": "ruth", "first_name": "Ruth", "role": "picker"}

    answer = keepers_client.post("/household/people/add/", sent)

    ruth = Person.objects.get(username="ruth")
    assert answer["Location"] == f"/household/people/{ruth.pk}/invite/"
    assert (str(ruth), household.role_of(ruth), ruth.has_usable_password()) == (
        "Ruth",
        "picker",
        False,
    )


def test_a_new_person_starts_with_the_units_of_the_house(keepers_client, house):
    type(house).objects.update(units="imperial")

    keepers_client.post("/household/people/add/", {"username": "ruth", "role": "guest"})

    assert Person.objects.get(username="ruth").units == "imperial"


def test_a_taken_name_is_refused_at_its_box_and_nothing_typed_is_lost(keepers_client):
    sent = {"username": "Maker", "first_name": "Ruth", "role": "guest"}

    answer = keepers_client.post("/household/people/add/", sent)

    assert answer.status_code == 422
    assert "is taken" in answer.context["form"].errors["username"][0]
    assert 'value="Ruth"' in answer.content.decode()


def test_the_link_is_shown_once_and_only_for_the_keepers_password(keepers_client, maker):
    address = f"/household/people/{maker.pk}/invite/"

    refused = keepers_client.post(address, {"own_password": "wrong"})
    shown = keepers_client.post(address, {"own_password": PASSWORD})
    later = keepers_client.get(address)

    assert refused.status_code == 422
    assert "/welcome/" not in refused.content.decode()
    assert "http://127.0.0.1:8000/welcome/" in shown.content.decode()
    assert shown["Cache-Control"] == "no-store"
    assert "/welcome/" not in later.content.decode()


def test_the_secret_of_a_link_is_not_written_down(keepers_client, maker):
    address = f"/household/people/{maker.pk}/invite/"

    page = keepers_client.post(address, {"own_password": PASSWORD}).content.decode()

    secret = page.split("/welcome/")[1].split("/")[1]
    done = Activity.objects.first()
    assert done.summary == "A sign-in link for maker"
    assert secret not in f"{done.link}{done.undo_data}"


def test_a_role_changes_only_with_the_keepers_password(keepers_client, maker):
    address = f"/household/people/{maker.pk}/edit/"

    refused = keepers_client.post(
        address, {"role": "picker", "active": "on", "own_password": "wrong"}
    )
    before = household.role_of(Person.objects.get(pk=maker.pk))
    done = keepers_client.post(
        address, {"role": "picker", "active": "on", "own_password": PASSWORD}
    )

    assert (refused.status_code, before) == (422, "maker")
    assert (done.status_code, household.role_of(Person.objects.get(pk=maker.pk))) == (302, "picker")


def test_the_only_keeper_is_told_why_the_role_stays(keepers_client, keeper):
    sent = {"role": "guest", "active": "on", "own_password": PASSWORD}

    answer = keepers_client.post(f"/household/people/{keeper.pk}/edit/", sent)

    assert answer.status_code == 422
    assert "only keeper" in answer.context["form"].errors["role"][0]


def test_whoever_is_shut_out_loses_the_page_at_once(keepers_client, maker):
    theirs = type(keepers_client)()
    theirs.force_login(maker)

    keepers_client.post(
        f"/household/people/{maker.pk}/edit/", {"role": "maker", "own_password": PASSWORD}
    )

    assert theirs.get("/me/").status_code == 302
    assert theirs.post("/sign-in/", {"username": "maker", "password": PASSWORD}).status_code == 422


def test_only_a_keeper_sees_the_ways_to_change_people(client, people):
    client.force_login(people["picker"])

    page = client.get("/household/").content.decode()

    assert "/invite/" not in page
    assert "/household/people/add/" not in page
