"""The book of a batch through its pages, and what the bench sends to it."""

import datetime as dt

import pytest

from inventory import ledger
from planner import batches
from planner.models import Addition, Reading
from tests.conftest import KILO
from tests.inventory.views.reading import text_of
from tests.planner.world import LITRE, damson_version

START = dt.date(2026, 1, 10)


@pytest.fixture
def january(maker):
    version = damson_version(maker)
    return batches.plan(recipe_version=version, volume=9 * LITRE, start=START, by=maker)


def reading(batch, /, **typed):
    values = {"batch": batch.pk, "kind": "gravity", "value": "1.080", "on": "11 Jan 2026"}
    return values | {"reference": "20 C"} | typed


def test_a_reading_is_recorded_and_shown_with_what_follows(as_maker, january):
    as_maker.post("/readings/add/", reading(january, value="1,078", temperature="34 C"))
    as_maker.post("/readings/add/", reading(january, value="0.995", on="10 Mar 2026"))

    page = text_of(as_maker.get(f"/batches/{january.pk}/"))

    assert "Start gravity 1.0826 worked out" in page
    assert "Is it finished? moving" in page
    assert "% vol" in page
    whole = text_of(as_maker.get(f"/batches/{january.pk}/book/"))
    assert "gravity 1.0780 at 34 °C 1.0826" in whole


def test_a_batch_without_readings_says_what_the_first_is_good_for(as_maker, january):
    assert "every later sum stands on" in text_of(as_maker.get(f"/batches/{january.pk}/"))


@pytest.mark.parametrize(
    ("box", "value"),
    [
        ("value", "0.8"),
        ("value", "x"),
        ("temperature", "300"),
        ("on", "2099-01-01"),
        ("on", "1 Jan 2026"),
        ("time", "25:00"),
        ("batch", "999"),
        ("kind", "colour"),
        ("reference", "60 C"),
    ],
)
def test_a_reading_that_cannot_be_is_refused_and_stays_typed(as_maker, january, box, value):
    answer = as_maker.post("/readings/add/", reading(january, note="hall table", **{box: value}))

    assert answer.status_code == 422
    assert "hall table" in answer.content.decode()
    assert not Reading.objects.exists()


def test_an_acid_reading_wants_its_acid(as_maker, january):
    answer = as_maker.post("/readings/add/", reading(january, kind="acid", value="6.5"))

    assert "acid_as" in answer.context["form"].errors


def test_a_wrong_reading_is_struck_through_and_stays(as_maker, january):
    as_maker.post("/readings/add/", reading(january))
    one = Reading.objects.get()

    as_maker.post(f"/readings/{one.pk}/strike/", {"reason": "wrong jar"})

    assert "struck through: wrong jar" in text_of(as_maker.get(f"/batches/{january.pk}/book/"))


def test_the_book_is_taken_away_as_csv(as_maker, january):
    as_maker.post("/readings/add/", reading(january))

    rows = as_maker.get(f"/batches/{january.pk}/book/?format=csv").content.decode()

    assert "gravity 1.0800" in rows


def test_the_bench_sends_a_reading_as_it_was_typed(as_maker, january):
    page = as_maker.get("/bench/gravity-correction/?reading=1,078&sample_c=34+C")
    address = next(one for words, one in page.context["sends"])

    form = as_maker.get(address).content.decode()

    assert 'value="1,078"' in form
    assert 'value="34 C"' in form


def test_the_bench_sends_a_dose_with_its_rule(as_maker, january, sugar, maker):
    lot = ledger.receive(item=sugar, quantity=KILO, on=START, by=maker)
    asked = "/bench/sweetening/?volume=5+L&now=0.994&wanted=1.008"
    address = next(one for words, one in as_maker.get(asked).context["sends"])
    form = as_maker.get(address).context["form"].initial

    typed = form | {"batch": january.pk, "lot": lot.pk, "on": "1 Feb 2026"}
    as_maker.post("/additions/add/", typed)

    row = Addition.objects.get()
    assert row.rule == "mass balance with displaced volume"
    assert row.amount == pytest.approx(185_800, abs=2_000)


def test_sulphite_by_the_spoon_is_refused_at_its_box(as_maker, january, sugar, maker):
    lot = ledger.receive(item=sugar, quantity=KILO, on=START, by=maker)
    typed = {"batch": january.pk, "purpose": "sulphite", "lot": lot.pk, "amount": "1 tsp"}

    answer = as_maker.post("/additions/add/", typed | {"on": "1 Feb 2026"})

    assert answer.status_code == 422
    assert "never measured by the spoon" in text_of(answer)


@pytest.mark.parametrize(
    "asked", ["batch=x", "kind=" + "y" * 300, "value=<script>", "batch=" + "9" * 30]
)
def test_an_address_with_nonsense_opens_the_form_all_the_same(as_maker, house, asked):
    assert as_maker.get(f"/readings/add/?{asked}").status_code == 200


def test_taste_and_clarity_are_kept_in_words(as_maker, batch, settings):
    settings.PRETEND_TODAY = batch.start
    for kind, value in (("taste", "sharp, of almonds"), ("clarity", "Hazy")):
        typed = {"batch": batch.pk, "kind": kind, "value": value, "on": "today"}
        assert as_maker.post("/readings/add/", typed).status_code == 302

    said = text_of(as_maker.get(f"/batches/{batch.pk}/book/"))
    assert "taste: sharp, of almonds" in said
    assert "it is hazy" in said


def test_a_clarity_of_another_word_is_refused(as_maker, batch, settings):
    settings.PRETEND_TODAY = batch.start
    typed = {"batch": batch.pk, "kind": "clarity", "value": "murky", "on": "today"}

    answer = as_maker.post("/readings/add/", typed)

    assert answer.status_code == 422
    assert "cloudy, hazy, clearing, clear, bright" in text_of(answer)
