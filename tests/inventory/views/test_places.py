import pytest

from inventory.models import Activity, StoragePlace, Vessel
from inventory.tables.household import ActivityTable, PersonTable
from inventory.tables.places import PlaceTable
from inventory.tables.vessels import VesselTable


@pytest.fixture
def makers_client(client, maker):
    client.force_login(maker)
    return client


def test_a_place_is_kept_with_how_warm_it_gets(makers_client):
    sent = {"name": "Cellar", "coolest_c": "-2", "ordinary_c": "", "warmest_c": "16", "dark": "on"}

    answer = makers_client.post("/places/add/", sent)

    place = StoragePlace.objects.get()
    assert answer["Location"] == "/places/"
    assert (place.coolest_c, place.ordinary_c, place.warmest_c, place.dark) == (-2, None, 16, True)
    assert Activity.objects.first().summary == "Added the place Cellar"


@pytest.mark.parametrize(
    ("box", "typed"),
    [("warmest_c", "61"), ("coolest_c", "-41"), ("ordinary_c", "1.5"), ("name", "")],
)
def test_a_warmth_no_house_has_is_refused(makers_client, box, typed):
    answer = makers_client.post("/places/add/", {"name": "Cellar"} | {box: typed})

    assert answer.status_code == 422
    assert list(answer.context["form"].errors) == [box]
    assert not StoragePlace.objects.exists()


def test_a_name_that_is_taken_is_refused(makers_client):
    StoragePlace.objects.create(name="Cellar")

    answer = makers_client.post("/places/add/", {"name": "Cellar"})

    assert answer.status_code == 422
    assert list(answer.context["form"].errors) == ["name"]


def test_an_unknown_warmth_is_shown_as_not_known(client, people):
    StoragePlace.objects.create(name="Cellar", warmest_c=0)
    client.force_login(people["guest"])

    page = client.get("/places/").content.decode()

    assert "not known" in page
    assert "0 °C" in page


def test_a_guest_is_offered_no_way_to_add_or_change(client, people):
    place = StoragePlace.objects.create(name="Cellar")
    client.force_login(people["guest"])

    page = client.get("/places/").content.decode()

    assert "/places/add/" not in page
    assert f"/places/{place.pk}/edit/" not in page


def test_the_list_can_be_taken_away_as_csv(makers_client):
    StoragePlace.objects.create(name="=Cellar", warmest_c=16)

    answer = makers_client.get("/places/?format=csv")

    assert answer["Content-Type"].startswith("text/csv")
    assert '"\'=Cellar"' in answer.content.decode()


SORTED = [
    (address, column.name)
    for address, table in (
        ("/places/", PlaceTable),
        ("/vessels/", VesselTable),
        ("/household/", PersonTable),
        ("/household/activity/", ActivityTable),
    )
    for column in table([]).columns
    if column.orderable
]


@pytest.mark.parametrize(("address", "column"), SORTED)
def test_every_list_is_sorted_both_ways(makers_client, people, address, column):
    StoragePlace.objects.create(name="Cellar", coolest_c=8, ordinary_c=12, warmest_c=16)
    StoragePlace.objects.create(name="Shed", coolest_c=-4, ordinary_c=9, warmest_c=31, dark=False)
    Vessel.objects.create(name="Jar", kind="closed", brimful=4_750_000, note="a")
    Vessel.objects.create(name="Tub", kind="open", brimful=9_000_000, note="b", archived=True)
    people["guest"].first_name, people["guest"].is_active = "Ruth", False
    people["guest"].save()
    makers_client.post("/places/add/", {"name": "Attic"})

    up, down = (
        [
            column_value(row, column)
            for row in makers_client.get(f"{address}?sort={sign}{column}").context["table"].rows
        ]
        for sign in ("", "-")
    )

    assert sorted(up, key=str) == sorted(down, key=str)
    assert up != down


def column_value(row, column):
    return row.table.columns[column].accessor.resolve(row.record, quiet=True)
