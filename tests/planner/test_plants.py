import pytest
from django.core.management import call_command

from inventory.models import Activity
from planner.models import Plant
from planner.plants import load_catalogue

pytestmark = pytest.mark.django_db


def test_catalogue_is_loaded_once_and_changes_nothing_a_second_time():
    first = load_catalogue()
    second = load_catalogue()

    assert first == (103, 0)
    assert second == (0, 0)
    assert Plant.objects.count() == 103
    assert Activity.objects.count() == 1


def test_a_changed_catalogue_row_is_brought_up_to_date():
    load_catalogue()
    Plant.objects.filter(slug="damson").update(peak_day=1, hazard_text="")

    changed = load_catalogue()

    damson = Plant.objects.get(slug="damson")
    assert changed == (0, 1)
    assert damson.peak_day == 255
    assert damson.version == 2


def test_a_plant_of_the_house_is_left_alone_under_the_same_name():
    Plant.objects.create(slug="damson", common_name="Our damson", own=True, peak_day=250)

    load_catalogue()

    assert Plant.objects.get(slug="damson").common_name == "Our damson"
    assert Plant.objects.get(slug="damson").peak_day == 250


def test_loading_keeps_the_item_of_a_plant(sugar):
    load_catalogue()
    Plant.objects.filter(slug="damson").update(item=sugar, bbch="")

    load_catalogue()

    assert Plant.objects.get(slug="damson").item == sugar


def test_rows_carry_their_sources_hazard_and_law():
    load_catalogue()

    elder = Plant.objects.get(slug="elderberry")
    broom = Plant.objects.get(slug="warn_broom")
    assert elder.sources["window"]
    assert elder.hazard_level == 3
    assert elder.opens_with_caution
    assert broom.hazard_level == 4
    assert broom.legal_class == "do-not-use"
    assert broom.must_not_be_used
    assert broom.dose == "not offered"


def test_ripening_fruit_that_peaks_from_july_on_is_late_fruit():
    load_catalogue()

    late = set(Plant.objects.filter(late_fruit=True).values_list("slug", flat=True))
    assert {"damson", "blackberry", "crab_apple", "sloe"} <= late
    assert late.isdisjoint({"gorse_flower", "rhubarb", "meadowsweet", "strawberry", "parsnip"})


def test_other_names_stand_in_the_notes():
    load_catalogue()

    assert "bramble" in Plant.objects.get(slug="blackberry").notes


def test_command_says_what_it_did(capsys):
    call_command("load_catalogue")

    assert capsys.readouterr().out == "plants: 103 new, 0 changed\n"
