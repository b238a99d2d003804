import re

import pytest
from django.urls import reverse

from inventory import household
from inventory.models import Person

PASSWORD = "hedge row 12 stile"
SIGN_IN = "/sign-in/?next=/me/"


@pytest.fixture
def counted(settings):
    """Wrong passwords are counted, as in the running house."""
    settings.AXES_ENABLED = True


def sign_in(client, username, password):
    return client.post(SIGN_IN, {"username": username, "password": password})


def test_the_right_name_and_password_lead_on_to_the_page_asked_for(client, people):
    answer = sign_in(client, "maker", PASSWORD)

    assert (answer.status_code, answer["Location"]) == (302, "/me/")


def test_a_capital_letter_in_the_name_does_not_lock_anybody_out(client, people):
    answer = sign_in(client, "Maker", PASSWORD)

    assert answer.status_code == 302


def test_every_failure_to_sign_in_is_answered_with_the_same_words(client, people):
    Person.objects.filter(username="guest").update(is_active=False)

    answers = [
        sign_in(client, "maker", "wrong"),
        sign_in(client, "nobody", "wrong"),
        sign_in(client, "guest", PASSWORD),
    ]

    assert [answer.status_code for answer in answers] == [422, 422, 422]
    assert len({tuple(answer.context["form"].non_field_errors()) for answer in answers}) == 1


def test_a_name_longer_than_any_is_only_a_wrong_one(client, people):
    answer = sign_in(client, "x" * 200_000, "wrong")

    assert answer.status_code == 422


def test_boxes_tell_password_managers_what_they_are(client, house):
    page = client.get("/sign-in/").content.decode()

    assert 'autocomplete="username"' in page
    assert 'autocomplete="current-password"' in page


def test_the_fifth_wrong_password_closes_the_door_in_any_spelling(client, people, counted):
    names = ["maker", "Maker", "MAKER", "maKer", "maker"]

    statuses = [sign_in(client, name, "wrong").status_code for name in names]

    assert statuses == [422, 422, 422, 422, 429]
    assert sign_in(client, "maker", PASSWORD).status_code == 429


def test_signing_out_by_a_link_is_refused_and_by_a_button_works(client, maker):
    client.force_login(maker)

    assert client.get("/sign-out/").status_code == 405
    assert client.post("/sign-out/").status_code == 302
    assert client.get("/me/")["Location"] == "/sign-in/?next=/me/"


def test_preferences_keep_units_and_light(client, maker):
    client.force_login(maker)

    answer = client.post("/me/", {"name": "Ruth", "units": "imperial", "theme": "dark"})

    maker.refresh_from_db()
    assert answer.status_code == 302
    assert (str(maker), maker.units, maker.theme) == ("Ruth", "imperial", "dark")
    assert 'data-theme="dark"' in client.get("/me/").content.decode()


def test_unknown_units_are_refused_and_the_name_typed_stays(client, maker):
    client.force_login(maker)

    answer = client.post("/me/", {"name": "Ruth", "units": "cubits", "theme": "dark"})

    assert answer.status_code == 422
    assert 'value="Ruth"' in answer.content.decode()


def change_password(client, old, new="bramble over the wall"):
    sent = {"own_password": old, "new_password": new, "repeated": new}
    return client.post("/me/password/", sent)


def test_a_new_password_signs_out_every_other_device(client, maker):
    client.force_login(maker)
    other = type(client)()
    other.force_login(maker)

    answer = change_password(client, PASSWORD)

    assert answer.status_code == 302
    assert client.get("/me/").status_code == 200
    assert other.get("/me/").status_code == 302


def test_a_password_is_not_changed_without_the_old_one(client, maker):
    client.force_login(maker)

    answer = change_password(client, "wrong")

    maker.refresh_from_db()
    assert answer.status_code == 422
    assert maker.check_password(PASSWORD)


def test_a_short_or_common_password_is_refused(client, maker):
    client.force_login(maker)

    assert change_password(client, PASSWORD, new="short").status_code == 422
    assert change_password(client, PASSWORD, new="1qaz2wsx3edc").status_code == 422


def test_guessing_the_own_password_in_a_stolen_session_is_paused_too(client, maker, counted):
    client.force_login(maker)
    guess = {"own_password": "wrong", "new_password": "x", "repeated": "x"}

    statuses = [
        client.post("/me/password/", guess | {"token": f"t{number}"}).status_code
        for number in range(5)
    ]

    assert statuses == [422, 422, 422, 422, 429]


def invited(keeper, **details):
    person = household.add_person(username="ruth", password=None, role="picker", **details)
    return person, household.invite(person=person, by=keeper)


def open_link(client, path):
    return client.get(path, follow=True)


def test_a_one_time_link_sets_the_password_and_works_once(client, keeper):
    person, path = invited(keeper)
    form = open_link(client, path)
    chosen = {"new_password1": "gorse on the moor", "new_password2": "gorse on the moor"}

    answer = client.post(form.request["PATH_INFO"], chosen)

    person.refresh_from_db()
    assert answer["Location"] == reverse("inventory:sign-in")
    assert person.check_password("gorse on the moor")
    assert "worn out" in open_link(client, path).content.decode()


def test_the_secret_leaves_the_address_before_the_form_is_shown(client, keeper):
    _, path = invited(keeper)

    form = open_link(client, path)

    secret = path.rstrip("/").split("/")[-1]
    assert secret not in form.request["PATH_INFO"]
    assert secret not in form.content.decode()


def test_a_one_time_link_is_worn_out_after_a_day(client, keeper, monkeypatch):
    person, path = invited(keeper)
    token = path.rstrip("/").split("/")[-1]
    made = household.invitations._now()
    later = made + household.INVITATION_LASTS
    monkeypatch.setattr(household.invitations, "_now", lambda: later.replace(microsecond=0))
    assert household.invitations.check_token(person, token)

    beyond = later + household.INVITATION_LASTS / 1440
    monkeypatch.setattr(household.invitations, "_now", lambda: beyond)

    assert not household.invitations.check_token(person, token)


def test_a_link_made_before_the_clock_was_put_back_opens_nothing(keeper, monkeypatch):
    person, path = invited(keeper)
    token = path.rstrip("/").split("/")[-1]
    earlier = household.invitations._now() - 3 * household.INVITATION_LASTS

    monkeypatch.setattr(household.invitations, "_now", lambda: earlier)

    assert not household.invitations.check_token(person, token)


def test_a_link_for_somebody_shut_out_opens_nothing(client, keeper):
    person, path = invited(keeper)

    household.change_access(person=person, role="picker", active=False, by=keeper)

    assert "worn out" in open_link(client, path).content.decode()


@pytest.mark.parametrize(
    "uid", ["MQ", "....", "9" * 300, "MTIzNDU2Nzg5MDEyMzQ1Njc4OTAxMjM0NTY3ODkw"]
)
def test_a_made_up_link_is_a_worn_out_one(client, house, uid):
    answer = client.get(f"/welcome/{uid}/{'z' * 40}/")

    assert answer.status_code == 200
    assert re.search("worn out", answer.content.decode())
