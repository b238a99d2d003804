import pytest

from inventory.models import Activity, StoragePlace, Vessel


@pytest.fixture
def shelf(house):
    return StoragePlace.objects.create(name="Top shelf", warmest_c=24)


@pytest.fixture
def makers_client(client, maker):
    client.force_login(maker)
    return client


def change(client, shelf, **typed):
    sent = {"name": "Top shelf", "warmest_c": "24", "version": "1"}
    return client.post(f"/places/{shelf.pk}/edit/", sent | typed)


def test_the_second_of_two_editors_sees_both_texts(makers_client, shelf):
    change(makers_client, shelf, warmest_c="27")

    answer = change(makers_client, shelf, warmest_c="31")

    shelf.refresh_from_db()
    rows = {label: rest for label, *rest in answer.context["rows"]}
    assert answer.status_code == 409
    assert shelf.warmest_c == 27
    assert rows["Warmest it gets, °C"] == ["27", "31", True]
    assert rows["Name"] == ["Top shelf", "Top shelf", False]


def test_what_the_second_editor_typed_can_be_saved_over_the_first(makers_client, shelf):
    change(makers_client, shelf, warmest_c="27")
    form = change(makers_client, shelf, warmest_c="31").context["form"]

    answer = change(makers_client, shelf, warmest_c="31", version=form["version"].value())

    shelf.refresh_from_db()
    assert answer.status_code == 302
    assert (shelf.warmest_c, shelf.version) == (31, 3)


def test_a_conflict_leaves_no_activity(makers_client, shelf):
    change(makers_client, shelf, warmest_c="27")
    before = Activity.objects.count()

    change(makers_client, shelf, warmest_c="31", token="a-token")

    assert Activity.objects.count() == before


def test_a_form_sent_again_after_a_conflict_is_not_taken_for_a_repeat(makers_client, shelf):
    change(makers_client, shelf, warmest_c="27")
    change(makers_client, shelf, warmest_c="31", token="a-token")

    change(makers_client, shelf, warmest_c="31", token="a-token", version="2")

    shelf.refresh_from_db()
    assert shelf.warmest_c == 31


def test_ticks_and_choices_are_compared_in_words(makers_client, jar):
    sent = {"name": "Jar 1", "kind": "closed", "brimful": "4.75 L", "version": "1"}
    makers_client.post(f"/vessels/{jar.pk}/edit/", sent | {"archived": "on"})

    answer = makers_client.post(f"/vessels/{jar.pk}/edit/", sent | {"kind": "open"})

    rows = {label: rest for label, *rest in answer.context["rows"]}
    assert rows["Put away for good"] == ["yes", "no", True]
    assert rows["Kind"][:2] == ["closed under an airlock", "open or lidded, for the mash"]
    assert rows["What it holds to the brim"][2] is False
    assert Vessel.objects.get().kind == "closed"


def test_a_refused_edit_keeps_what_was_typed_and_the_version(makers_client, shelf):
    answer = change(makers_client, shelf, coolest_c="30", warmest_c="20")

    assert answer.status_code == 422
    assert 'value="30"' in answer.content.decode()
    assert answer.context["form"]["version"].value() == "1"
