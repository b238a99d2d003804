import pytest
from django.db import connection
from django.test.utils import CaptureQueriesContext

from inventory import household
from inventory.models import Activity, Household

TYPED = {
    "name": "Skelder Fold",
    "time_zone": "Europe/Berlin",
    "country": "de",
    "latitude": "54.4",
    "height_m": "180",
    "units": "imperial",
    "version": "1",
}


@pytest.fixture
def keepers_client(client, keeper):
    client.force_login(keeper)
    return client


def change(client, **typed):
    return client.post("/household/edit/", TYPED | typed)


def test_settings_are_kept_as_typed(keepers_client):
    answer = change(keepers_client, latitude="-41,28")

    house = Household.objects.get()
    assert answer["Location"] == "/household/"
    assert (house.time_zone, house.country, house.latitude_thousandths, house.version) == (
        "Europe/Berlin",
        "DE",
        -41_280,
        2,
    )
    assert Activity.objects.first().summary == "Changed the house"


def test_the_form_shows_the_latitude_in_degrees(keepers_client):
    page = keepers_client.get("/household/edit/").content.decode()

    assert 'value="54.4"' in page
    assert '<option value="Asia/Kathmandu">' in page


@pytest.mark.parametrize(
    ("box", "typed"),
    [
        ("time_zone", "Mars/Olympus"),
        ("country", "1x"),
        ("latitude", "90.001"),
        ("latitude", "NaN"),
        ("height_m", "5001"),
        ("height_m", "1e400"),
        ("units", "cubits"),
        ("name", ""),
        ("name", "x" * 81),
        ("name", "a\x00b"),
    ],
)
def test_what_cannot_be_is_refused_at_its_box(keepers_client, box, typed):
    answer = change(keepers_client, **{box: typed})

    assert answer.status_code == 422
    assert list(answer.context["form"].errors) == [box]
    assert Household.objects.get().version == 1


@pytest.mark.parametrize("version", ["", "0", "-1", "abc", "9" * 30])
def test_a_spoilt_version_is_never_a_failure(keepers_client, version):
    answer = change(keepers_client, version=version)

    assert answer.status_code in (409, 422)
    assert Household.objects.get().version == 1


def test_the_household_page_shows_the_settings_and_the_people(keepers_client):
    page = keepers_client.get("/household/").content.decode()

    assert "54.4° north" in page
    assert "picker" in page


def test_the_household_page_asks_as_many_questions_for_many_people_as_for_few(
    keepers_client, django_assert_num_queries
):
    with CaptureQueriesContext(
        connection,
    ) as few:
        keepers_client.get("/household/")
    for number in range(20):
        household.add_person(username=f"person{number}", password=None, role="guest")

    with django_assert_num_queries(len(few)):
        keepers_client.get("/household/")


def test_the_health_page_answers_anybody_in_plain_words(client, db):
    answer = client.get("/health/")

    assert (answer.status_code, answer.content) == (200, b"ok")
    assert answer["Content-Type"].startswith("text/plain")
