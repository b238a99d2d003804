"""Weather that somebody brings: looked at, taken in, taken back, and brought to the house's height."""

import datetime as dt

import pytest
from django.core.files.uploadedfile import SimpleUploadedFile

from inventory import activity, audit
from inventory.models import Activity
from inventory.refusals import Refusal
from planner import weather
from planner.models import Normals, WeatherDay, WeatherFile
from planner.phenology.normals import stations
from tests.inventory.views.reading import text_of

FIRST = dt.date(2025, 1, 1)


def table(days=30, low=1.0, high=8.0, first=FIRST):
    rows = [f"{first + dt.timedelta(n)},{low},{high}" for n in range(days)]
    return "\n".join(["date,tmin,tmax", *rows]).encode()


def bring(maker, *args, taken=True, height_m=None, read_at="midnight", **more):
    data = table(*args, **more)
    file = weather.look_at(name="beck.csv", data=data, by=maker, height_m=height_m, read_at=read_at)
    return weather.take_in(file=file, by=maker) if taken else file


def usual(maker, name="Durham", height_m=None):
    row = stations()[name]
    return weather.set_normals(
        name=name, lows=row.lows_c, highs=row.highs_c, by=maker, height_m=height_m
    )


def test_nothing_counts_before_it_is_taken_in(house, maker):
    usual(maker)
    file = bring(maker, taken=False)
    assert weather.here(house).years == {}

    weather.take_in(file=file, by=maker)

    assert weather.here(house).years[2025][1] == (1.0, 8.0)
    assert len(weather.here(house).years[2025]) == 30
    with pytest.raises(Refusal, match="taken in already"):
        weather.take_in(file=file, by=maker)


def test_a_file_is_taken_back_with_all_its_days(house, maker):
    usual(maker)
    bring(maker)

    activity.undo(activity=Activity.objects.first(), by=maker)

    assert weather.here(house).years == {}


def test_where_files_overlap_the_newest_counts(house, maker):
    usual(maker)
    bring(maker, 30, 1.0)
    bring(maker, 10, 3.0)

    days = weather.here(house).years[2025]
    assert (days[1], days[20]) == ((3.0, 8.0), (1.0, 8.0))


def test_a_station_below_the_house_is_colder_here(house, maker):
    usual(maker)
    bring(maker, height_m=house.height_m - 100)

    low, high = weather.here(house).years[2025][1]
    # 0.6 degrees for every hundred metres.
    assert (low, high) == (pytest.approx(0.4), pytest.approx(7.4))


def test_read_at_nine_the_highest_is_that_of_the_day_before(house, maker):
    usual(maker)
    rows = [f"{FIRST + dt.timedelta(n)},1,{5 + n}" for n in range(10)]
    data = "\n".join(["date,tmin,tmax", *rows]).encode()
    file = weather.look_at(name="x", data=data, by=maker, read_at="nine")
    weather.take_in(file=file, by=maker)

    days = weather.here(house).years[2025]
    assert days[1] == (1.0, 6.0)
    assert 10 not in days


def test_without_usual_months_the_means_of_whole_years_are_taken(house, maker):
    assert weather.here(house) is None
    bring(maker, 40)
    assert weather.here(house) is None
    bring(maker, 365)

    assert weather.here(house).normals[200] == pytest.approx((1.0, 8.0))


def test_what_was_looked_at_and_left_is_forgotten(house, maker):
    bring(maker, taken=False)
    bring(maker, taken=False)

    assert WeatherFile.objects.count() == 1
    assert WeatherDay.objects.count() == 30


def test_a_file_that_cannot_be_read_leaves_nothing(house, maker):
    rows = [FIRST + dt.timedelta(n) for n in range(101) if n % 5 < 3]
    data = "\n".join(["date,tmin,tmax", *(f"{day},1,8" for day in rows)]).encode()

    with pytest.raises(Refusal, match="40% of its days are missing"):
        weather.look_at(name="holes.csv", data=data, by=maker)

    assert not WeatherFile.objects.exists()


def test_the_weather_is_asked_for_with_two_queries(house, maker, django_assert_num_queries):
    usual(maker)
    bring(maker)
    weather.here(house)

    with django_assert_num_queries(2):
        weather.here(house)


@pytest.fixture
def as_maker(client, maker, settings, house):
    client.force_login(maker, backend=settings.AUTHENTICATION_BACKENDS[-1])
    return client


def upload(data, name="beck.csv"):
    return SimpleUploadedFile(name, data, content_type="text/csv")


def test_a_file_is_looked_at_and_then_taken_in_on_its_page(as_maker):
    odd = table() + b"\n2025-02-01,9,8\n"
    answer = as_maker.post(
        "/weather/add/", {"file": upload(odd), "read_at": "midnight"}, follow=True
    )

    page = text_of(answer)
    assert "Nothing counts yet" in page
    assert "Left out: 1 that have a lowest above their highest." in page
    assert "1.0 to 8.0 °C" in page

    file = WeatherFile.objects.get()
    page = text_of(as_maker.post(f"/weather/files/{file.pk}/", follow=True))
    assert "Took in the weather of beck.csv" in page
    assert WeatherFile.objects.get().state == "taken_in"


@pytest.mark.parametrize(
    ("data", "words"),
    [
        (b"name,weight\nsugar,2\n", "Wanted: a line of headings with a date"),
        (b"", "The file is empty"),
        (b"\x00\x01", "no text file"),
    ],
)
def test_a_wrong_file_says_why_on_the_form(as_maker, data, words):
    answer = as_maker.post("/weather/add/", {"file": upload(data), "read_at": "nine"})

    assert answer.status_code == 422
    assert words in text_of(answer)
    assert not WeatherFile.objects.exists()


def test_usual_months_by_station_typed_or_from_a_file(as_maker):
    as_maker.post("/weather/normals/add/", {"station": "Oxford"})
    assert Normals.objects.first().lows[0] == 240

    twelve = " ".join(["1.5"] * 12)
    typed = {"lows": twelve, "highs": twelve.replace("1.5", "9"), "name": "the dale"}
    as_maker.post("/weather/normals/add/", typed)
    assert (str(Normals.objects.first()), Normals.objects.first().highs[3]) == ("the dale", 900)

    rows = [f" 2001 {month:3} {month + 5}.0 {month}.0 1 50.0 40.0" for month in range(1, 13)]
    months = upload("\n".join(rows).encode(), "station.txt")
    as_maker.post("/weather/normals/add/", {"file": months})
    assert (str(Normals.objects.first()), Normals.objects.first().lows[11]) == ("station.txt", 1200)


@pytest.mark.parametrize(
    ("typed", "words"),
    [
        ({}, "Choose one of the three ways"),
        ({"station": "Oxford", "lows": " ".join(["1"] * 12)}, "Choose one of the three ways"),
        ({"lows": "1 2 3"}, "holds 3 numbers, 12 are wanted"),
        ({"lows": " ".join(["1"] * 12)}, "Both rows are needed"),
        ({"lows": " ".join(["9"] * 12), "highs": " ".join(["1"] * 12)}, "above its highest"),
        ({"lows": " ".join(["NaN"] * 12), "highs": " ".join(["1"] * 12)}, "is not a number"),
    ],
)
def test_months_that_cannot_be_are_refused(as_maker, typed, words):
    answer = as_maker.post("/weather/normals/add/", typed)

    assert answer.status_code == 422
    assert words in text_of(answer)
    assert not Normals.objects.exists()


def broken():
    return {found.rule for found in audit.findings() if found.grave}


def test_the_audit_finds_days_outside_their_file_and_months_that_cannot_be(house, maker):
    file, row = bring(maker), usual(maker)
    assert broken() == set()

    WeatherFile.objects.filter(pk=file.pk).update(last=FIRST)
    Normals.objects.filter(pk=row.pk).update(lows=[9900] * 12)

    assert broken() == {
        "the days of a weather file lie between its first and last, and both are there",
        "usual months are twelve, the lowest not above the highest",
    }


def test_days_that_are_not_over_yet_are_left_out(house, maker, settings):
    settings.PRETEND_TODAY = FIRST + dt.timedelta(10)

    file = bring(maker, 30)

    assert (file.last, file.oddities) == (
        FIRST + dt.timedelta(9),
        "Left out: 20 that are not over yet.",
    )
    with pytest.raises(Refusal, match="still to come"):
        bring(maker, 30, first=FIRST + dt.timedelta(10))
