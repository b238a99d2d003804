"""How the house's own dates, cues, patches and weather move a window."""

import datetime as dt

import pytest

from planner import busy, harvest, observations, outings, patches, picks, plants, sightings, weather
from planner.models import Plant
from planner.phenology import WindowState
from planner.phenology.normals import stations
from planner.plants import load_catalogue
from tests.inventory.views.reading import text_of

APRIL = dt.date(2026, 4, 6)
# First picks of five years; the worked example has the median 22 June.
DAYS = ((2021, 6, 28), (2022, 6, 20), (2023, 6, 24), (2024, 6, 16), (2025, 6, 22))


@pytest.fixture
def meadowsweet(house, settings):
    settings.PRETEND_TODAY = dt.date(2026, 12, 1)
    load_catalogue()
    return Plant.objects.get(slug="meadowsweet")


@pytest.fixture
def beck(meadowsweet, maker):
    return patches.add_patch(name="Beck Bottom", plants=[meadowsweet], by=maker)


def saw(plant, maker, *day, stage="open", patch=None, looked=False):
    day = dt.date(*day)
    observations.observe(
        plant=plant, stage=stage, day=day, by=maker, patch=patch, looked_before=looked
    )


@pytest.fixture
def record(meadowsweet, beck, maker):
    for day in DAYS:
        saw(meadowsweet, maker, *day, patch=beck, looked=True)
    return meadowsweet


def at(plant, house, on=APRIL):
    return harvest.window_on(plant, house=house, on=on)


def test_own_dates_pull_the_window_and_narrow_it(record, meadowsweet, house):
    window = at(record, house)
    words = [reason.words for reason in window.opening.reasons]

    # The catalogue says 2 July here, the record 22 June; five alike years weigh four fifths.
    assert dt.date(2026, 6, 22) < window.first < dt.date(2026, 6, 27)
    assert words == ["the catalogue, for this place", "5 own dates, weighing 79%"]
    assert (window.latest - window.earliest).days < 21


def test_dates_without_a_look_the_day_before_count_as_bounds(meadowsweet, house, maker):
    for day in DAYS:
        saw(meadowsweet, maker, *day, looked=True)
    exact = at(meadowsweet, house).opening.forecast
    observations.Observation.objects.update(looked_before=False)

    bounds = at(meadowsweet, house).opening.forecast
    assert bounds.mean < exact.mean
    assert bounds.sd >= exact.sd


def test_a_look_on_the_day_before_makes_a_date_exact(meadowsweet, house, maker):
    saw(meadowsweet, maker, 2025, 6, 21, stage="not_yet")
    saw(meadowsweet, maker, 2025, 6, 22)
    noted = at(meadowsweet, house).opening.forecast.mean
    observations.Observation.objects.filter(stage="open").update(looked_before=True)
    observations.Observation.objects.filter(stage="not_yet").delete()

    assert at(meadowsweet, house).opening.forecast.mean == noted


def test_what_was_seen_this_year_stands(record, house, maker):
    saw(record, maker, 2026, 6, 15, looked=True)

    window = at(record, house, on=dt.date(2026, 6, 16))

    assert window.first == dt.date(2026, 6, 15)
    assert window.state is WindowState.OPEN
    assert window.opening.seen == dt.date(2026, 6, 15)
    assert not window.opening.reasons


def test_seen_over_closes_the_window(record, house, maker):
    saw(record, maker, 2026, 6, 15, looked=True)
    saw(record, maker, 2026, 6, 30, stage="over")

    window = at(record, house, on=dt.date(2026, 6, 30))

    assert window.last == dt.date(2026, 6, 29)
    assert window.state is WindowState.OVER


def test_a_look_in_vain_moves_the_opening_behind_it(record, house, maker):
    today = dt.date(2026, 6, 28)
    assert at(record, house, on=today).state is WindowState.OPEN

    saw(record, maker, 2026, 6, 28, stage="not_yet")

    window = at(record, house, on=today)
    assert window.state is WindowState.SHOWING
    assert window.earliest > dt.date(2026, 6, 27)
    assert window.opening.reasons[-1].words == "looked at, and not open yet"


def test_an_early_cue_pulls_by_half_and_is_named(meadowsweet, house, maker):
    before = at(meadowsweet, house)
    cue = before.peak - dt.timedelta(meadowsweet.cue_lag_days + 10)
    observations.observe(plant=meadowsweet, stage="cue", day=cue, by=maker)

    moved = at(meadowsweet, house, on=cue)

    # r = 0.5 for spring to early summer: ten days early makes five.
    assert (before.first - moved.first).days == 5
    assert "meadowsweet first flower on" in moved.opening.reasons[-1].words
    assert "10 days early" in moved.opening.reasons[-1].words


def test_a_cue_seen_on_one_plant_tells_of_another(meadowsweet, house, maker):
    flower, berry = (Plant.objects.get(slug=slug) for slug in ("elderflower", "elderberry"))
    before = at(berry, house)
    day = before.peak - dt.timedelta(berry.cue_lag_days + 10)
    observations.observe(plant=flower, stage="cue", day=day, by=maker)

    # r = 0.3 for flower to autumn fruit.
    assert (before.first - at(berry, house, on=day).first).days == 3


def test_a_window_over_new_year_belongs_to_one_season(meadowsweet, house, maker):
    parsnip = Plant.objects.get(slug="parsnip")
    saw(parsnip, maker, 2025, 10, 25, looked=True)

    window = at(parsnip, house, on=dt.date(2026, 1, 10))
    assert window.first == dt.date(2025, 10, 25)
    assert window.state in (WindowState.OPEN, WindowState.GOING_OVER)


def test_a_patch_higher_up_opens_later_and_learns_for_itself(record, beck, house, maker):
    fell = patches.add_patch(
        name="Fell gate", plants=[record], height_m=house.height_m + 200, by=maker
    )
    held = harvest.known(house, [record])
    both = [beck, fell]

    here, above = harvest.windows_by_patch(record, house=house, on=APRIL, patches=both, held=held)

    # 3.3 days for each hundred metres, from the catalogue's 2 July; only the beck has dates.
    assert above.first == dt.date(2026, 7, 9)
    assert here.first < dt.date(2026, 6, 27)
    assert above.opening.reasons[0].words == "the catalogue, for Fell gate"


def test_dates_of_a_high_patch_are_brought_down_to_the_house(meadowsweet, house, maker):
    fell = patches.add_patch(
        name="Fell gate", plants=[meadowsweet], height_m=house.height_m + 300, by=maker
    )
    for year, month, day in DAYS:
        saw(meadowsweet, maker, year, month, day, patch=fell, looked=True)
    [above] = harvest.windows_by_patch(
        meadowsweet,
        house=house,
        on=APRIL,
        patches=[fell],
        held=harvest.known(house, [meadowsweet]),
    )

    # 3.3 days for each hundred metres: about ten days earlier at the house.
    assert 9 <= (above.first - at(meadowsweet, house).first).days <= 11


def test_what_was_seen_at_a_late_patch_is_told_on_its_own_day(meadowsweet, house, maker):
    late = patches.add_patch(name="North bank", plants=[meadowsweet], later_days=6, by=maker)
    saw(meadowsweet, maker, 2026, 6, 20, patch=late, looked=True)

    window = at(meadowsweet, house, on=dt.date(2026, 6, 21))

    assert (window.opening.seen, window.first) == (dt.date(2026, 6, 20), dt.date(2026, 6, 20))


def test_a_neighbour_that_opened_early_speaks_to_the_others(record, beck, house, maker):
    fell = patches.add_patch(name="Fell gate", plants=[record], by=maker)
    saw(record, maker, 2026, 6, 14, patch=beck, looked=True)
    held = harvest.known(house, [record])

    _, above = harvest.windows_by_patch(
        record, house=house, on=dt.date(2026, 6, 15), patches=[beck, fell], held=held
    )

    assert "Beck Bottom opened on" in above.opening.reasons[-1].words
    assert above.opening.reasons[-1].moved < -3


def test_a_warm_spring_is_felt_where_the_house_has_the_weather(record, house, maker):
    station = stations()["Durham"]
    weather.set_normals(name="Durham", lows=station.lows_c, highs=station.highs_c, by=maker)
    before = at(record, house, on=dt.date(2026, 6, 1)).first
    lines = ["date,tmin,tmax"]
    for n in range((dt.date(2026, 6, 1) - dt.date(2021, 1, 1)).days):
        day = dt.date(2021, 1, 1) + dt.timedelta(n)
        warm = 3.0 if day.year == 2026 else 0.0
        low, high = station.lows_c[day.month - 1], station.highs_c[day.month - 1]
        lines.append(f"{day},{low + warm:.1f},{high + warm:.1f}")
    file = weather.look_at(name="days", data="\n".join(lines).encode(), by=maker)
    weather.take_in(file=file, by=maker)

    window = at(record, house, on=dt.date(2026, 6, 1))

    assert window.first < before
    assert "degree-days over" in window.opening.reasons[-1].words
    assert "by 5 own years" in window.opening.reasons[-1].words


def test_the_worked_example_of_days_to_go(record, house, maker):
    plants.edit_plant(record, version=record.version, values={"lasts_days": 21}, by=maker)
    first, last = dt.date(2026, 6, 27), dt.date(2026, 7, 5)
    busy.add(what="away", first=first, last=last, by=maker)
    record.refresh_from_db()

    own = observations.record_of(observations.own_dates(record, sightings.seen()))
    by_record, by_forecast = outings.of_plant(
        at(record, house), own, busy=busy.spells(since=APRIL), today=APRIL
    )

    assert (own.median, own.earliest, own.latest) == (173, 167, 179)
    assert (by_record.first, by_record.last) == (dt.date(2026, 6, 22), dt.date(2026, 7, 12))
    assert len(by_record.days) == 12
    assert by_record.weekends == [dt.date(2026, 7, 11), dt.date(2026, 7, 12)]
    assert (by_record.is_used, by_forecast.is_used) == (False, True)


def test_the_plant_page_says_what_moved_it(client, record, beck, house, maker, settings):
    settings.PRETEND_TODAY = APRIL
    client.force_login(maker, backend=settings.AUTHENTICATION_BACKENDS[-1])

    page = text_of(client.get("/plants/meadowsweet/"))

    assert "What moved this forecast" in page
    assert "5 own dates, weighing 79%" in page
    assert "By the own record" in page
    assert "Beck Bottom" in page


def test_a_guest_is_not_told_where_the_patches_are(client, record, beck, people, settings):
    client.force_login(people["guest"], backend=settings.AUTHENTICATION_BACKENDS[-1])

    assert "Beck Bottom" not in text_of(client.get("/plants/meadowsweet/"))


def test_a_pick_counts_as_a_bound(meadowsweet, house, maker):
    before = at(meadowsweet, house).first
    picks.weigh(
        plant=meadowsweet, on=dt.date(2025, 6, 15), weighings=[(500_000, 100_000)], by=maker,
        confirmed="toothed leaves, almond scent",
    )  # fmt: skip

    assert at(meadowsweet, house).first < before
    assert "1 own date," in at(meadowsweet, house).opening.reasons[-1].words


def test_a_plant_of_the_houses_own_is_added_with_its_days(client, house, maker, settings):
    client.force_login(maker, backend=settings.AUTHENTICATION_BACKENDS[-1])
    typed = {"common_name": "Add", "first_day": "22 Jun", "last_day": "12 Jul", "hazard_level": "1"}

    page = text_of(client.post("/plants/add/", typed, follow=True))
    plant = Plant.objects.get(own=True)
    assert (plant.slug, plant.first_day, plant.peak_day, plant.last_day) == ("add-2", 173, 183, 193)
    assert "Added the plant Add" in page
    answer = client.post("/plants/add/", typed | {"peak_day": "1 Jan", "common_name": "B"})
    assert answer.status_code == 422
    assert "must lie in the window" in text_of(answer)


def test_busy_days_are_noted_taken_out_and_refused_backwards(client, house, maker, settings):
    settings.PRETEND_TODAY = APRIL
    client.force_login(maker, backend=settings.AUTHENTICATION_BACKENDS[-1])
    wrong = {"what": "away", "first": "5 Jul", "last": "27 Jun 2026"}
    assert "last day comes before the first" in text_of(client.post("/busy/add/", wrong))
    assert busy.spells() == []

    client.post("/busy/add/", {"what": "away", "first": "27 Jun", "last": "5 Jul"})
    assert busy.spells() == [(dt.date(2026, 6, 27), dt.date(2026, 7, 5))]

    spell = busy.BusySpell.objects.get()
    client.post(f"/busy/{spell.pk}/remove/")
    assert busy.spells() == []
