"""The same form sent twice counts once."""

import pytest
from django.http import HttpResponse
from django.shortcuts import redirect

from inventory import activity
from inventory.models import Activity, SentForm, StoragePlace
from inventory.sent import new_token, sent_once

SENT = {"name": "Cellar", "token": "0123456789abcdef"}


@pytest.fixture
def makers_client(client, maker):
    client.force_login(maker)
    return client


def test_a_form_sent_twice_makes_one_place(makers_client):
    first = makers_client.post("/places/add/", SENT)
    second = makers_client.post("/places/add/", SENT)

    assert StoragePlace.objects.count() == 1
    assert (first["Location"], second["Location"]) == ("/places/", "/places/")


def test_the_repeat_is_told_that_it_was_done_already(makers_client):
    makers_client.post("/places/add/", SENT)

    page = makers_client.post("/places/add/", SENT, follow=True).content.decode()

    assert "That was done already" in page


def test_a_refused_form_may_be_mended_and_sent_again(makers_client):
    refused = makers_client.post("/places/add/", SENT | {"warmest_c": "99"})

    mended = makers_client.post("/places/add/", SENT | {"warmest_c": "19"})

    assert (refused.status_code, mended.status_code) == (422, 302)
    assert StoragePlace.objects.get().warmest_c == 19


def test_the_same_token_of_somebody_else_is_another_form(client, people):
    for person in (people["maker"], people["keeper"]):
        client.force_login(person)
        client.post("/places/add/", SENT | {"name": f"Shelf of {person}"})

    assert StoragePlace.objects.count() == 2


def test_a_form_without_a_token_is_done_each_time(makers_client):
    makers_client.post("/places/add/", {"name": "Cellar"})
    makers_client.post("/places/add/", {"name": "Shed"})

    assert StoragePlace.objects.count() == 2
    assert not SentForm.objects.exists()


@pytest.mark.parametrize("token", ["x" * 5000, "’½", "<script>", " "])
def test_a_spoilt_token_is_never_a_failure(makers_client, token):
    answer = makers_client.post("/places/add/", {"name": "Cellar", "token": token})

    assert answer.status_code == 302


def test_every_form_of_a_page_carries_a_token_of_its_own(makers_client):
    first = makers_client.get("/places/add/").content.decode()
    second = makers_client.get("/places/add/").content.decode()

    tokens = [page.split('name="token" value="')[1][:32] for page in (first, second)]

    assert tokens[0] != tokens[1]
    assert len(new_token()) == 32


def _view_that(does):
    @sent_once
    def view(request):
        activity.record(by=None, verb="test", subject=request.user, summary="Something was done")
        return does(request)

    return view


def test_what_a_failed_view_wrote_is_taken_back(rf, maker):
    request = rf.post("/", {"token": "one"})
    request.user = maker
    before = Activity.objects.count()

    _view_that(lambda request: HttpResponse(status=409))(request)

    assert Activity.objects.count() == before
    assert not SentForm.objects.exists()


def test_what_a_broken_view_wrote_is_taken_back(rf, maker):
    request = rf.post("/", {"token": "one"})
    request.user = maker
    before = Activity.objects.count()

    with pytest.raises(ZeroDivisionError):
        _view_that(lambda request: 1 / 0)(request)

    assert Activity.objects.count() == before
    assert not SentForm.objects.exists()


def test_what_a_view_wrote_stays_with_its_address(rf, maker):
    request = rf.post("/", {"token": "one"})
    request.user = maker

    _view_that(lambda request: redirect("/places/"))(request)

    assert Activity.objects.first().summary == "Something was done"
    assert SentForm.objects.get().address == "/places/"
