import pytest

from inventory.models import Vessel


@pytest.fixture
def makers_client(client, maker):
    client.force_login(maker)
    return client


def add(client, **typed):
    sent = {"name": "Cask", "kind": "closed", "brimful": "4.75 L"}
    return client.post("/vessels/add/", sent | typed)


def test_a_vessel_is_kept_by_what_it_holds_to_the_brim(makers_client):
    answer = add(makers_client)

    assert answer["Location"] == "/vessels/"
    assert Vessel.objects.get().brimful == 4_750_000


def test_an_imperial_gallon_is_read_and_shown_as_one(makers_client, maker):
    type(maker).objects.filter(pk=maker.pk).update(units="imperial")

    add(makers_client, brimful="1 gal")

    assert Vessel.objects.get().brimful == 4_546_090
    assert "1 imp gal" in makers_client.get("/vessels/").content.decode()


def test_a_metric_person_sees_litres(makers_client, bucket):
    page = makers_client.get("/vessels/").content.decode()

    assert "27.3 L" in page


@pytest.mark.parametrize("typed", ["", "0", "-1 L", "2 kg", "1,234 L", "1e9 L", "NaN L", "9" * 40])
def test_a_volume_nobody_could_mean_is_refused(makers_client, typed):
    answer = add(makers_client, brimful=typed)

    assert answer.status_code == 422
    assert list(answer.context["form"].errors) == ["brimful"]
    assert not Vessel.objects.exists()


def test_the_edit_form_reads_back_what_it_shows(makers_client, bucket):
    shown = makers_client.get(f"/vessels/{bucket.pk}/edit/").context["form"]["brimful"].value()
    typed = {"name": "Large bucket", "kind": "open", "brimful": shown, "version": "1"}

    answer = makers_client.post(f"/vessels/{bucket.pk}/edit/", typed)

    bucket.refresh_from_db()
    assert answer.status_code == 302
    assert (bucket.brimful, bucket.version) == (27_300_000, 2)


def test_a_vessel_put_away_says_so(makers_client, jar):
    typed = {"name": "Jar 1", "kind": "closed", "brimful": "4.75 L", "archived": "on"}

    makers_client.post(f"/vessels/{jar.pk}/edit/", typed | {"version": "1"})

    assert "put away" in makers_client.get("/vessels/").content.decode()
