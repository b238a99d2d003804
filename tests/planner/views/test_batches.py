import pytest

from inventory import activity
from inventory.models import Activity, Reservation
from planner import batches, recipes
from planner.models import Batch
from tests.planner.world import LITRE, SATURDAY, damson_version

PLAN = {"volume": "18 L", "start": "2026-09-12", "vessels": "auto"}


def planned(client, **typed):
    return client.post("/batches/add/", PLAN | typed)


def test_planning_a_batch_dates_its_steps_and_leads_to_its_page(as_maker, maker):
    version = damson_version(maker)

    response = planned(as_maker, recipe_version=version.pk)

    batch = Batch.objects.get()
    assert response.status_code == 302
    assert response["Location"] == f"/batches/{batch.pk}/"
    assert batch.volume == 18 * LITRE
    assert batch.steps.count() == 10


def test_a_volume_of_nothing_is_refused_and_what_was_typed_stays(as_maker, maker):
    version = damson_version(maker)

    response = planned(as_maker, recipe_version=version.pk, volume="0 L", name="My damson")

    assert response.status_code == 422
    assert b"0 L" in response.content
    assert b"My damson" in response.content
    assert not Batch.objects.exists()


def test_a_recipe_without_steps_is_refused_in_words(as_maker, maker):
    recipe = recipes.add_recipe(name="Bare", product="still", by=maker)
    bare = recipe.versions.create(number=1)

    response = planned(as_maker, recipe_version=bare.pk)

    assert response.status_code == 422
    assert b"step" in response.content
    assert not Batch.objects.exists()


def test_the_page_says_what_the_batch_lacks_and_by_when(as_maker, batch):
    page = as_maker.get(f"/batches/{batch.pk}/").content.decode()

    assert "What it lacks" in page
    assert "White sugar" in page
    assert "order by Sat 5 Sep 2026" in page


def test_the_page_of_a_batch_takes_the_same_queries_with_twice_the_steps(
    as_maker, batch, django_assert_max_num_queries
):
    with django_assert_max_num_queries(40):
        as_maker.get(f"/batches/{batch.pk}/")


@pytest.mark.parametrize("rows", [25, 200])
def test_the_list_takes_the_same_queries_at_25_and_200_rows(
    rows, as_maker, maker, django_assert_num_queries
):
    version = damson_version(maker)
    Batch.objects.bulk_create(
        Batch(name=f"Batch {n}", recipe_version=version, volume=LITRE, start=SATURDAY)
        for n in range(rows)
    )

    with django_assert_num_queries(6):
        as_maker.get("/batches/")


def test_dropping_takes_needs_away_and_can_be_undone(as_maker, batch):
    as_maker.post(f"/batches/{batch.pk}/drop/")

    batch.refresh_from_db()
    assert batch.state == Batch.State.DROPPED
    assert not Reservation.objects.exists()
    activity.undo(activity=Activity.objects.first(), by=None)
    batch.refresh_from_db()
    assert batch.state == Batch.State.SET_DOWN


def test_dropping_twice_is_refused_where_the_button_stood(as_maker, batch):
    page = f"/batches/{batch.pk}/"
    as_maker.post(f"{page}drop/")

    answer = as_maker.post(
        f"{page}drop/", headers={"referer": f"http://testserver{page}"}, follow=True
    )

    assert answer.redirect_chain == [(page, 302)]
    assert "has been dropped; take that back first" in answer.content.decode()
    elsewhere = as_maker.post(f"{page}drop/", headers={"referer": "https://example.org/x"})
    assert elsewhere["Location"] == "/"


def test_the_second_editor_is_shown_both_names(as_maker, batch):
    typed = {"name": "Mine", "notes": "", "version": batch.version}
    batches.edit_batch(batch=batch, version=batch.version, values={"name": "Theirs"}, by=None)

    response = as_maker.post(f"/batches/{batch.pk}/edit/", typed)

    assert response.status_code == 409
    assert b"Mine" in response.content
    assert b"Theirs" in response.content


def test_the_list_can_be_taken_away_as_csv(as_maker, batch):
    response = as_maker.get("/batches/?format=csv")

    assert response["Content-Type"].startswith("text/csv")
    assert batch.name in response.content.decode()
