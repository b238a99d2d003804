"""What stands before every page."""

import pytest
from django.db import DatabaseError, DataError, OperationalError
from django.http import HttpResponse
from django.urls import include, path

from inventory.access import Access, access

NAMES = ("guest", "picker", "maker", "keeper")


def undeclared(request):
    return HttpResponse("everything")


def failing_with(error):
    @access(read="guest")
    def view(request):
        raise error

    return view


urlpatterns = [
    path("undeclared/", undeclared),
    path("unreadable/", failing_with(DataError("integer out of range"))),
    path("full/", failing_with(OperationalError("database or disk is full"))),
    path("locked-folder/", failing_with(OperationalError("attempt to write a readonly database"))),
    path("missing/", failing_with(OperationalError("unable to open database file"))),
    path("slow/", failing_with(DatabaseError("canceling statement due to lock timeout"))),
    path("", include("planner.urls")),
]


@pytest.fixture
def keepers_client(client, keeper, settings):
    settings.ROOT_URLCONF = "tests.inventory.test_guards"
    client.force_login(keeper)
    return client


def test_a_view_that_does_not_say_who_may_read_it_is_closed_to_all(keepers_client):
    assert keepers_client.get("/undeclared/").status_code == 403


def test_somebody_without_a_role_reads_nothing(client, keeper):
    keeper.groups.clear()
    client.force_login(keeper)

    assert client.get("/places/").status_code == 403


@pytest.mark.parametrize(
    ("lowest", "admitted"),
    [
        ("guest", NAMES),
        ("picker", NAMES[1:]),
        ("maker", NAMES[2:]),
        ("keeper", NAMES[3:]),
        (None, ()),
    ],
)
def test_a_role_reaches_down_but_not_up(lowest, admitted):
    reading = Access(read=lowest, write=None)
    writing = Access(read=None, write=lowest)

    assert tuple(role for role in NAMES if reading.admits(role, "GET")) == admitted
    assert tuple(role for role in NAMES if writing.admits(role, "POST")) == admitted


@pytest.mark.parametrize("method", ["PUT", "PATCH", "DELETE", "TRACE", "BREW"])
def test_an_unusual_method_counts_as_writing(method):
    assert not Access(read="guest", write="keeper").admits("maker", method)


@pytest.mark.parametrize(
    "address",
    [
        "/places/?q=%00",
        "/places/?%00=1",
        "/places/?q=a%0Ab",
        "/places/?q=a&q=%07",
        "/places/%00/",
        "/places/?" + "q" * 8001,
    ],
)
def test_an_address_no_page_understands_is_refused_in_words(client, maker, address):
    client.force_login(maker)

    answer = client.get(address)

    assert answer.status_code == 400
    assert "The address" in answer.content.decode()


@pytest.mark.parametrize(
    ("address", "words"),
    [
        ("/full/", "The disk is full"),
        ("/locked-folder/", "cannot be written"),
        ("/missing/", "disk is missing"),
        ("/slow/", "did not answer in time"),
    ],
)
def test_a_failing_disk_is_told_in_words(keepers_client, address, words):
    answer = keepers_client.get(address)

    assert answer.status_code == 503
    assert words in answer.content.decode()


def test_a_value_the_database_cannot_hold_is_the_senders_mistake(keepers_client):
    assert keepers_client.get("/unreadable/").status_code == 400


def test_a_post_without_its_form_is_refused_and_says_what_to_do(client, maker):
    strict = type(client)(enforce_csrf_checks=True)
    strict.force_login(maker)

    answer = strict.post("/places/add/", {"name": "Cellar"})

    assert answer.status_code == 403
    assert "form" in answer.content.decode()


def test_pages_allow_no_script_of_others_and_no_frame(client, maker):
    client.force_login(maker)

    answer = client.get("/places/")

    rules = dict(
        rule.strip().split(" ", 1) for rule in answer["Content-Security-Policy"].split(";")
    )
    assert (rules["default-src"], rules["script-src"]) == ("'none'", "'self'")
    assert (rules["frame-ancestors"], answer["X-Frame-Options"]) == ("'none'", "DENY")
    assert answer["X-Content-Type-Options"] == "nosniff"
