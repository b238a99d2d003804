import datetime as dt

import pytest

from inventory.models import Household
from planner import harvest
from planner.models import Plant
from planner.plants import load_catalogue

MAY_DAY = dt.date(2026, 5, 1)


@pytest.fixture
def catalogue(house):
    load_catalogue()
    return house


def plant(slug):
    return Plant.objects.get(slug=slug)


def at(house, slug, day):
    return harvest.window_on(plant(slug), house=house, on=day)


def test_spring_flowers_move_by_latitude_and_height(catalogue):
    # 3.6 days x (54.40 - 51.76) degrees + 3.3 days x 1.17 (180 m over 63 m) = 13.4 days.
    window = harvest.window_of(plant("gorse_flower"), 2026, catalogue)

    assert window.first == dt.date(2026, 3, 14)
    assert window.peak == dt.date(2026, 5, 1)
    assert window.last == dt.date(2026, 6, 12)


def test_late_fruit_moves_by_half_of_that(catalogue):
    window = harvest.window_of(plant("damson"), 2026, catalogue)

    assert window.first == dt.date(2026, 8, 30)
    assert window.last == dt.date(2026, 10, 14)
    assert at(catalogue, "damson", MAY_DAY).shift_days == 7


def test_roots_lifted_after_frost_come_earlier_in_the_north(catalogue):
    assert at(catalogue, "parsnip", MAY_DAY).shift_days == -13


def test_window_over_new_year_is_open_on_both_sides_of_it(catalogue):
    in_december = at(catalogue, "parsnip", dt.date(2026, 12, 31))
    in_january = at(catalogue, "parsnip", dt.date(2027, 1, 1))

    assert (in_december.first, in_december.last) == (in_january.first, in_january.last)
    assert in_december.first.year == 2026
    assert in_december.last.year == 2027
    assert in_december.days_left == in_january.days_left + 1


def test_days_left_count_today_and_the_last_day(catalogue):
    assert at(catalogue, "damson", dt.date(2026, 10, 14)).days_left == 1
    assert at(catalogue, "damson", dt.date(2026, 10, 13)).days_left == 2
    assert at(catalogue, "damson", dt.date(2026, 10, 15)).days_left is None


def test_open_next_and_closing_share_the_plants_out(catalogue):
    found = harvest.windows(house=catalogue, on=MAY_DAY)

    opened = {window.plant.slug for window in harvest.open_now(found)}
    coming = {window.plant.slug for window in harvest.next_to_open(found)}
    assert "gorse_flower" in opened
    assert "damson" in coming
    assert opened.isdisjoint(coming)
    assert {window.plant.slug for window in harvest.closing(found)} < opened


def test_next_to_open_comes_by_first_day(catalogue):
    days = [w.first for w in harvest.next_to_open(harvest.windows(house=catalogue, on=MAY_DAY))]

    assert days == sorted(days)
    assert days[0] > MAY_DAY


def test_forbidden_and_american_plants_are_not_offered_here(catalogue):
    offered = {window.plant.slug for window in harvest.windows(house=catalogue, on=MAY_DAY)}

    assert offered.isdisjoint({"warn_broom", "warn_knotweed", "serviceberry"})


def test_american_plants_are_offered_to_an_american_house(catalogue):
    house = Household(pk=1, country="US", latitude_thousandths=42_000, height_m=20)

    offered = {window.plant.slug for window in harvest.windows(house=house, on=MAY_DAY)}

    assert "serviceberry" in offered


def test_house_outside_britain_is_told_that_the_shift_is_a_guess(catalogue):
    house = Household(pk=1, country="DE", latitude_thousandths=52_000, height_m=40)

    window = harvest.window_on(plant("gorse_flower"), house=house, on=MAY_DAY)

    assert any("guess" in sentence for sentence in window.cautions)
    assert at(catalogue, "gorse_flower", MAY_DAY).cautions == ()


def test_own_window_stays_where_the_house_put_it(catalogue):
    Plant.objects.create(
        slug="beck-gorse", common_name="Gorse", own=True, first_day=60, peak_day=70, last_day=80
    )

    assert at(catalogue, "beck-gorse", MAY_DAY).first == dt.date(2026, 3, 1)


def test_south_of_the_equator_only_own_windows_hold(catalogue):
    house = Household(pk=1, country="NZ", latitude_thousandths=-41_000, height_m=20)
    Plant.objects.create(
        slug="bush-honey", common_name="Feijoa", own=True, first_day=80, peak_day=100, last_day=140
    )

    found = harvest.windows(house=house, on=MAY_DAY)

    assert [window.plant.slug for window in found] == ["bush-honey"]
    assert harvest.window_of(plant("damson"), 2026, house) is None


def test_plant_without_days_has_no_window(catalogue):
    unknown = Plant.objects.create(slug="quince-lane", common_name="Quince", own=True)

    assert harvest.window_of(unknown, 2026, catalogue) is None
    assert harvest.window_on(unknown, house=catalogue, on=MAY_DAY) is None


def test_all_windows_are_read_with_seven_queries(catalogue, django_assert_num_queries):
    # The plants, what was seen, picked and told by cues, patches, weather files and usual months.
    with django_assert_num_queries(7):
        found = harvest.windows(house=catalogue, on=MAY_DAY)

    assert len(found) == 88


def test_lowest_allowed_house_still_has_windows(catalogue):
    house = Household(pk=1, country="IL", latitude_thousandths=31_000, height_m=-450)

    assert harvest.window_on(plant("damson"), house=house, on=MAY_DAY)
