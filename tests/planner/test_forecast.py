"""Warmth, learning and the forecast: what must always hold, and how clues move it."""

import datetime as dt

import pytest
from astral import LocationInfo
from astral.sun import sun
from hypothesis import given
from hypothesis import strategies as st

from planner.phenology import Cue, Seen, Weather, chilling, fit, forecast, foretell, learning
from planner.phenology.daylight import day_length_h
from planner.phenology.normals import at_height, stations
from planner.phenology.thermal import Reached, means_of, normal_year, sums_of
from planner.phenology.warmth import Method, day_passed, degree_days

pytestmark = pytest.mark.unit

MIXED = pytest.mark.parametrize("method", list(Method))


@MIXED
@given(
    low=st.floats(-30, 30),
    span=st.floats(0, 25),
    base=st.floats(-5, 15),
    more=st.floats(0, 5),
)
def test_a_warmer_day_never_gives_less_and_a_higher_base_never_more(method, low, span, base, more):
    day = {"low_c": low, "high_c": low + span, "method": method}
    here = degree_days(base_c=base, **day)

    assert here >= 0
    assert degree_days(base_c=base + more, **day) <= here + 1e-9
    warmer = {"low_c": low + more, "high_c": low + span + more, "method": method}
    assert degree_days(base_c=base, **warmer) >= here - 1e-9


@MIXED
def test_a_cut_off_takes_the_heat_above_it_away(method):
    # A day from 20 to 30 over 10 gives 15; above 25 it has 2.5 by the triangle, less by the mean.
    whole = degree_days(low_c=20, high_c=30, base_c=10, method=method)
    above = degree_days(low_c=20, high_c=30, base_c=25, method=method)

    cut = degree_days(low_c=20, high_c=30, base_c=10, cutoff_c=25, method=method)

    assert cut == pytest.approx(whole - above)


@pytest.mark.parametrize(
    ("values", "words"),
    [
        ({"low_c": 9, "high_c": 8, "base_c": 5}, "lies above the highest"),
        ({"low_c": float("nan"), "high_c": 8, "base_c": 5}, "lowest must lie between"),
        ({"low_c": 1, "high_c": 800, "base_c": 5}, "highest must lie between"),
        ({"low_c": 1, "high_c": 8, "base_c": 5, "cutoff_c": 4}, "must lie above the base"),
    ],
)
def test_a_day_that_cannot_be_is_refused(values, words):
    with pytest.raises(ValueError, match=words):
        degree_days(**values)


def test_the_day_a_threshold_is_passed():
    # Worked example: day 11, total 106.
    means = [11, 12, 14, 13, 15, 16, 14, 17, 18, 16, 15, 17]

    assert day_passed(means, base_c=5, threshold=100) == (11, 106)
    with pytest.raises(ValueError, match="never reached"):
        day_passed(means, base_c=5, threshold=1000)


@pytest.mark.parametrize("latitude", [45.0, 51.75, 55.95, 60.0])
def test_the_length_of_every_day_of_a_year_is_near_an_almanac(latitude):
    # astral 3.2; the relation is printed as good to a few minutes at these latitudes.
    place = LocationInfo(latitude=latitude, longitude=0).observer
    for number in range(0, 365, 5):
        day = dt.date(2023, 1, 1) + dt.timedelta(number)
        light = sun(place, date=day)
        hours = (light["sunset"] - light["sunrise"]).total_seconds() / 3600
        assert day_length_h(latitude=latitude, day=day) == pytest.approx(hours, abs=6 / 60)


def test_beyond_the_circle_the_sun_stays_up_or_down():
    assert day_length_h(latitude=70, day=dt.date(2026, 6, 21)) == 24
    assert day_length_h(latitude=70, day=dt.date(2026, 12, 21)) == 0
    with pytest.raises(ValueError, match="between -90 and 90"):
        day_length_h(latitude=91, day=dt.date(2026, 6, 21))


def test_the_hours_of_a_day_lie_between_its_ends_and_mean_the_same():
    hours = chilling.hours_of(2, 12)

    assert (min(hours), max(hours), len(hours)) == (pytest.approx(2), pytest.approx(12), 24)
    assert sum(hours) / 24 == pytest.approx(7)
    assert hours[15] == max(hours)
    assert chilling.chilling_hours([-1, 0, 7.2, 7.3]) == 2


def test_more_own_dates_weigh_more_and_leave_less_doubt():
    few = learning.learn(prior_mean=150, seen=[Seen(140)])
    many = learning.learn(prior_mean=150, seen=[Seen(140)] * 8)

    assert 140 < many.mean < few.mean < 150
    assert many.sd < few.sd
    assert few.weight < many.weight < 1


def test_a_first_sighting_after_a_gap_is_only_a_bound():
    exact = learning.learn(prior_mean=150, seen=[Seen(140)])
    bound = learning.learn(prior_mean=150, seen=[Seen(140, exact=False)])
    useless = learning.learn(prior_mean=150, seen=[Seen(200, exact=False)])

    # It may have been open for long: earlier than an exact date says, and less sure.
    assert bound.mean < exact.mean
    assert bound.sd > exact.sd
    assert useless.mean == pytest.approx(150, abs=0.01)
    assert useless.sd == pytest.approx(learning.PLACE_SD_DAYS, rel=0.001)


@given(
    prior=st.floats(60, 300),
    seen=st.lists(st.tuples(st.floats(30, 330), st.booleans()), max_size=12),
)
def test_learning_never_leaves_the_span_of_what_is_known(prior, seen):
    found = learning.learn(prior_mean=prior, seen=[Seen(day, exact) for day, exact in seen])

    low = min([prior, *(day for day, exact in seen if exact)], default=prior)
    high = max([prior, *(day for day, _ in seen)])
    bounds = [day for day, exact in seen if not exact]
    assert found.mean <= high + 1e-6
    assert bounds or found.mean >= low - 1e-6
    assert 0 < found.sd <= learning.PLACE_SD_DAYS + 1e-9
    assert 0 <= found.weight < 1


def reckoned(**more):
    return forecast(usual=173, usual_words="the catalogue, for this place", **more)


def test_every_clue_leaves_its_reason_and_the_days_add_up():
    found = reckoned(
        seen=[Seen(day) for day in (179, 171, 175, 167, 173)],
        cues=[Cue("the dog rose came early", -6, 0.5), Cue("a neighbour's", 3, 0.3)],
        reached=Reached(160, 4.0, 312.0),
        reached_words="312 of 400 degree-days",
    )

    words = [reason.words for reason in found.reasons]
    assert words[0] == "the catalogue, for this place"
    assert words[1].startswith("5 own dates, weighing 7")
    assert words[2:] == ["the dog rose came early", "312 of 400 degree-days"]
    assert 173 + sum(reason.moved for reason in found.reasons) == pytest.approx(found.mean)
    assert 160 < found.mean < 173


def test_four_openings_in_five_lie_within_the_interval():
    found = reckoned()
    low, high = found.interval

    assert found.chance_by(high - 0.5) - found.chance_by(low - 0.5) == pytest.approx(0.8)
    assert found.day(0.5) == pytest.approx(173)
    # Jeffree 1960: 7 days between years, and 5.5 about the place.
    assert high - 173 == pytest.approx(1.2816 * (7**2 + 5.5**2) ** 0.5, abs=0.01)


def test_a_look_in_vain_leaves_only_the_days_after_it():
    found = reckoned(not_yet_on=175)

    assert found.interval[0] > 175
    assert found.chance_by(175 - 0.5) == 0
    assert found.reasons[-1].words == "looked at, and not open yet"
    assert reckoned(not_yet_on=100).reasons == reckoned().reasons


def test_the_chance_of_being_open_rises_and_falls():
    found = reckoned()
    chances = [found.chance_on(day, lasts=21) for day in (140, 165, 183, 200, 225)]

    assert chances[2] == max(chances) > 0.6
    assert chances[0] < 0.01
    assert chances[4] < 0.01


OXFORD = normal_year(stations()["Oxford"].lows_c, stations()["Oxford"].highs_c)


def years_of(*offsets):
    """Oxford years that are so many degrees warmer than usual."""
    return {
        2010 + n: {day: (low + by, high + by) for day, (low, high) in OXFORD.items()}
        for n, by in enumerate(offsets)
    }


def opening(year, *, threshold=400):
    return next(d for d, total in sums_of(year, start=1, base_c=5).items() if total >= threshold)


def test_a_threshold_is_found_again_and_a_warm_spring_comes_early():
    years = years_of(-1, 0, 1, -0.5, 0.5, 2)
    weather = Weather(years, OXFORD)
    events = [(year, opening(years[year])) for year in sorted(years)[:5]]

    warming = fit(events, weather)
    found = foretell(warming, weather=weather, year=2015, today=90)

    assert warming.years == 5
    # It was 2 degrees warmer until day 90, and the other years are how it may go on.
    assert opening(years[2015]) < found.mean < opening(years[2011])
    assert abs(found.mean - opening(years[2015])) < 2 * found.sd


def test_the_nearer_the_day_the_surer():
    years = years_of(-1, 0, 1, -0.5, 0.5, 2)
    weather = Weather(years, OXFORD)
    warming = fit([(year, opening(years[year])) for year in sorted(years)[:5]], weather)
    days = (60, 100, 130)

    spreads = [foretell(warming, weather=weather, year=2015, today=day).sd for day in days]

    assert spreads == sorted(spreads, reverse=True)


def test_too_few_years_and_too_many_gaps_give_no_forecast():
    years = years_of(-1, 0, 1, -0.5)
    events = [(year, opening(year_days)) for year, year_days in years.items()]
    assert fit(events[:3], Weather(years, OXFORD)) is None

    warming = fit(events, Weather(years, OXFORD))
    holes = {day: pair for day, pair in OXFORD.items() if day % 5}
    broken = Weather(years | {2020: holes}, OXFORD)
    assert foretell(warming, weather=broken, year=2020, today=120) is None
    stale = Weather(years | {2020: {day: OXFORD[day] for day in range(1, 60)}}, OXFORD)
    assert foretell(warming, weather=stale, year=2020, today=120) is None
    assert foretell(warming, weather=stale, year=2020, today=70) is not None


def test_normals_go_smoothly_through_the_year_and_over_new_year():
    steps = [abs(OXFORD[day + 1][1] - OXFORD[day][1]) for day in range(1, 365)]

    assert len(OXFORD) == 365
    assert max(steps) < 0.15
    assert abs(OXFORD[365][0] - OXFORD[1][0]) < 0.1
    with pytest.raises(ValueError, match="twelve months"):
        normal_year([1.0], [2.0])
    with pytest.raises(ValueError, match="lies above its highest"):
        normal_year([9.0] * 12, [8.0] * 12)


def test_means_of_several_years_are_their_normals():
    found = means_of(list(years_of(-1, 1).values()))

    assert found[150] == pytest.approx(OXFORD[150], abs=0.1)
    assert means_of([{1: (0.0, 1.0)}]) == {}


def test_it_is_colder_uphill():
    assert at_height(15.0, from_m=60, to_m=260) == pytest.approx(13.8)
