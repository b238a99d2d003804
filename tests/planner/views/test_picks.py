"""Patches, stages and picks through their pages."""

import pytest

from inventory import items
from planner import patches, picks
from planner.models import Observation, Patch, Pick, Plant
from tests.inventory.views.reading import text_of


@pytest.fixture
def bramble(maker, house):
    item = items.add_item(by=maker, name="Bramble", kind="foraged", base="mg")
    return Plant.objects.create(slug="bramble", common_name="Bramble", item=item, room_days="1")


TUBS = {"gross_1": "1386", "tare_1": "74 g", "gross_2": "2.41 kg", "tare_2": "385"}


def weigh(client, plant, /, **typed):
    return client.post("/picks/add/", {"plant": plant.slug, "on": "6 Apr 2026"} | TUBS | typed)


def test_a_pick_is_weighed_sorted_and_split(as_maker, bramble):
    page = weigh(as_maker, bramble)["Location"]
    as_maker.post(page, {"do": "sort", "left": "3204"})
    give = {"do": "give", "item": bramble.item_id}

    as_maker.post(page, give | {"amount": "2400", "meant_for": "wine"})
    refused = as_maker.post(page, give | {"amount": "900", "meant_for": "cordial"})
    as_maker.post(page, give | {"amount": "804 g", "meant_for": "cordial"})

    assert refused.status_code == 422
    assert "96 g short" in text_of(refused)
    assert 'value="cordial"' in refused.content.decode()
    said = text_of(as_maker.get(page))
    assert "Net 3337 g" in said
    assert "Lost in sorting 133 g" in said
    assert "Left to put by 0 g" in said


@pytest.mark.parametrize(
    ("box", "value"),
    [
        ("gross_1", ""),
        ("gross_1", "400 kg"),
        ("gross_1", "heavy"),
        ("tare_1", "2 kg"),
        ("gross_2", ""),
        ("on", "2090-01-01"),
        ("plant", "moonflower"),
    ],
)
def test_a_pick_that_cannot_be_is_refused_and_stays_typed(as_maker, bramble, box, value):
    answer = weigh(as_maker, bramble, note="by the gate", **{box: value})

    assert answer.status_code == 422
    assert 'value="by the gate"' in answer.content.decode()
    assert not Pick.objects.exists()


def test_cautions_come_before_the_boxes(as_maker, house):
    Plant.objects.create(
        slug="elder", common_name="Elder", hazard_level=3, hazard_text="Stalks hold a poison."
    )

    page = text_of(as_maker.get("/picks/add/?plant=elder"))

    assert page.index("Stalks hold a poison") < page.index("Tub 1 with the pick")


def test_a_stage_is_noted_in_two_taps_from_the_plant(as_maker, bramble):
    page = as_maker.get(f"/plants/{bramble.slug}/").content.decode()
    assert 'href="/observations/add/?plant=bramble"' in page

    as_maker.post("/observations/add/", {"plant": "bramble", "stage": "open", "day": "2 Sep 2025"})

    assert Observation.objects.get().stage == "open"
    said = text_of(as_maker.get(f"/plants/{bramble.slug}/"))
    assert "This house's own record 2025 Tue 2 Sep 2025" in said
    assert "Median Wed 2 Sep 2026" in said


def test_a_patch_is_added_shown_and_changed(as_maker, bramble):
    typed = {"name": "Beck Bottom", "plants": [bramble.pk], "leave": "given", "later_days": "3"}
    as_maker.post("/patches/add/", typed | {"cap": "2 kg", "whereabouts": "second stile"})
    patch = Patch.objects.get()

    page = text_of(as_maker.get(f"/patches/{patch.pk}/"))
    as_maker.post(f"/patches/{patch.pk}/edit/", typed | {"name": "Beck Top", "version": "1"})

    assert "leave given" in page
    assert "second stile" in page
    assert Patch.objects.get().name == "Beck Top"


@pytest.mark.parametrize("key", ["9" * 30, "x", "-1"])
def test_a_plant_that_no_list_has_is_refused(as_maker, bramble, key):
    answer = as_maker.post(
        "/patches/add/", {"name": "Beck", "plants": [key], "leave": "own", "later_days": "0"}
    )

    assert answer.status_code == 422
    assert not Patch.objects.exists()


def test_a_file_of_picks_names_no_places_unless_asked(as_maker, bramble, maker):
    patch = patches.add_patch(by=maker, name="Beck Bottom", plants=[bramble])
    weigh(as_maker, bramble, patch=patch.pk)

    plain = as_maker.get("/picks/?format=csv").content.decode()
    asked = as_maker.get("/picks/?format=csv&places=1").content.decode()

    assert "Beck Bottom" not in plain
    assert "Beck Bottom" in asked


def test_no_guest_learns_where_a_patch_is(client, people, bramble, maker, settings):
    patch = patches.add_patch(by=maker, name="Beck Bottom", whereabouts="second stile")
    client.force_login(people["guest"], backend=settings.AUTHENTICATION_BACKENDS[-1])

    assert client.get(f"/patches/{patch.pk}/").status_code == 403


def test_the_list_of_picks_asks_as_many_questions_for_many(
    as_maker, bramble, maker, django_assert_max_num_queries
):
    weigh(as_maker, bramble)
    as_maker.get("/picks/")
    with django_assert_max_num_queries(9) as few:
        as_maker.get("/picks/")
    for _ in range(5):
        picks.weigh(
            plant=bramble, on=Pick.objects.first().day, weighings=[(2_000, 1_000)], by=maker
        )

    with django_assert_max_num_queries(len(few)):
        as_maker.get("/picks/")
