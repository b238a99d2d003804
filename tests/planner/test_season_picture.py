"""The year as ribbons at the house in Ruddock Dale, 54.4 degrees north and 180 m up."""

import datetime as dt

import pytest

from planner.models import Plant
from planner.plants import load_catalogue
from planner.season_picture import season_picture

MIDSUMMER = dt.date(2026, 6, 14)


@pytest.fixture
def catalogue(house):
    load_catalogue()
    return house


def plants(*slugs):
    return list(Plant.objects.filter(slug__in=slugs).order_by("pk"))


def picture_of(house, *slugs, on=MIDSUMMER, **more):
    return season_picture(house=house, on=on, plants=plants(*slugs), **more)


def looks(picture):
    return [box.look for box in picture.drawing.boxes]


def words(picture, look):
    return [found.text for found in picture.drawing.words if found.look.startswith(look)]


def test_ribbon_runs_from_the_first_to_the_last_day(catalogue):
    picture = picture_of(catalogue, "gorse_flower", on=dt.date(2026, 5, 1))

    # 14 March to the end of 12 June: 72 and 163 of 365 days.
    assert [(box.x, box.width) for box in picture.drawing.boxes] == [("19.73", "24.93")]
    assert words(picture, "label") == ["Gorse flower"]
    assert words(picture, "note") == ["open to 12 Jun"]


def test_opening_spreads_eleven_days_to_either_side(catalogue):
    picture = picture_of(catalogue, "gorse_flower")

    # 7 days between years (Jeffree 1960) and 5.5 about the place make 8.9: 3 to 25 March.
    assert [(line.x1, line.x2) for line in picture.drawing.strokes] == [("16.71", "22.74")]


@pytest.mark.parametrize(
    ("on", "look", "note"),
    [
        (dt.date(2026, 1, 20), "wash", "14 Mar to 12 Jun"),
        (dt.date(2026, 3, 10), "wash", "showing, from 14 Mar"),
        (dt.date(2026, 4, 1), "solid", "open to 12 Jun"),
        (dt.date(2026, 6, 11), "hatched", "going over, to 12 Jun"),
        (dt.date(2026, 6, 13), "hollow", "over since 12 Jun"),
    ],
)
def test_state_is_shown_by_its_look_and_in_words(catalogue, on, look, note):
    picture = picture_of(catalogue, "gorse_flower", on=on)

    assert looks(picture) == [look]
    assert words(picture, "note") == [note]


def test_window_over_new_year_shows_both_its_parts(catalogue):
    picture = picture_of(catalogue, "parsnip")

    assert looks(picture) == ["hollow came", "wash goes"]
    assert words(picture, "note") == ["19 Oct to 3 Mar"]
    assert [fact.cells[1:3] for fact in picture.facts] == [
        ("over", "19 Oct 2025"),
        ("not yet", "19 Oct 2026"),
    ]


def test_table_says_all_that_is_drawn(catalogue):
    picture = picture_of(catalogue, "gorse_flower", on=dt.date(2026, 5, 1))

    assert picture.head == ("Plant", "State", "First day", "Best day", "Last day", "Opening")
    assert [fact.cells for fact in picture.facts] == [
        ("Gorse flower", "open", "14 Mar 2026", "1 May 2026", "12 Jun 2026", "3 to 25 Mar")
    ]
    assert picture.facts[0].address == "/plants/gorse_flower/"


def test_own_picks_are_dots_and_stand_in_the_table(catalogue):
    gorse = plants("gorse_flower")[0]

    picture = picture_of(catalogue, "gorse_flower", picks={gorse.pk: [dt.date(2026, 4, 18)]})

    assert [(dot.look, dot.title) for dot in picture.drawing.dots] == [
        ("best", ""),
        ("pick", "picked or seen open 18 Apr 2026"),
    ]
    assert picture.head[-1] == "Own picks"
    assert picture.facts[0].cells[-1] == "18 Apr 2026"


def test_today_stands_between_what_is_over_and_what_comes(catalogue):
    picture = picture_of(catalogue, "gorse_flower", "damson")

    over, coming = picture.drawing.boxes
    now = next(line for line in picture.drawing.grid if line.look == "now")
    assert float(over.x) + float(over.width) < float(now.x1) < float(coming.x)
    assert words(picture, "now") == ["today, 14 Jun"]


def test_finding_names_what_goes_over_what_is_open_and_what_comes(catalogue):
    picture = picture_of(catalogue, "gorse_flower", "elderflower", "damson", "meadowsweet", on=dt.date(2026, 6, 11))  # fmt: skip

    assert picture.finding == (
        "Going over: Gorse flower. Open: Elderflower. Next: Meadowsweet, from about 2 Jul."
    )


def test_every_plant_of_the_year_has_a_row_and_a_line_in_the_table(catalogue):
    picture = season_picture(house=catalogue, on=MIDSUMMER)

    named = {fact.cells[0] for fact in picture.facts}
    assert named == set(words(picture, "label"))
    assert len(picture.facts) == len(picture.drawing.boxes)
    assert len(named) > 80


def test_year_may_begin_on_any_day(catalogue):
    picture = picture_of(catalogue, "parsnip", start=dt.date(2026, 6, 1))

    assert picture.title == "When each plant is open, 1 Jun 2026 to 31 May 2027"
    assert looks(picture) == ["wash"]


def test_year_may_begin_on_a_leap_day(catalogue):
    picture = picture_of(catalogue, "parsnip", start=dt.date(2028, 2, 29))

    assert picture.title == "When each plant is open, 29 Feb 2028 to 27 Feb 2029"


def test_house_without_plants_is_told_so(house):
    picture = season_picture(house=house, on=MIDSUMMER)

    assert picture.finding == "No plant has a window in this time."
    assert picture.facts == ()


def test_whole_season_takes_seven_queries(catalogue, django_assert_num_queries):
    # The plants, what was seen, picked and told by cues, patches, weather files and usual months.
    with django_assert_num_queries(7):
        season_picture(house=catalogue, on=MIDSUMMER)
