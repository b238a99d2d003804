"""Every gate by its table: each row, each verdict, unknowns, and the limits themselves."""

import datetime as dt

import pytest

from planner.chemistry import carbonation, pressure
from planner.gates import GO, LOOK_AGAIN, STOP, Limit, Reason, Verdict, before, wine

pytestmark = pytest.mark.unit

DAY = dt.date(2026, 9, 12)
YEAST = {"yeast_low_c": 15.0, "yeast_high_c": 30.0, "sulphite_hours_ago": None}
WHOLE = {"is_steadied": False, "is_fined_bare": False, "left_counted": True}
VESSEL = {"missing": [], "vessel": "Large bucket", "is_free": True}
PLANNED = [("Take the stalks off", True, "")]

ROWS = [
    # identity
    (GO, before.identity, {"plant": "Bramble", "hazard_level": 0, "confirmed": False}),
    (GO, before.identity, {"plant": "Bramble", "hazard_level": 2, "confirmed": False}),
    (STOP, before.identity, {"plant": "Elder", "hazard_level": 3, "confirmed": False}),
    (STOP, before.identity, {"plant": "Elder", "hazard_level": 4, "confirmed": False}),
    (GO, before.identity, {"plant": "Elder", "hazard_level": 4, "confirmed": True}),
    (STOP, before.identity, {"plant": "Foe", "hazard_level": 4, "confirmed": True, "banned": True}),
    # making-safe step
    (GO, before.making_safe, {"steps": []}),
    (GO, before.making_safe, {"steps": PLANNED}),
    (STOP, before.making_safe, {"steps": [("Take the stalks off", False, " ")]}),
    (LOOK_AGAIN, before.making_safe, {"steps": [("Take the stalks off", False, "bought clean")]}),
    # hold clock
    (GO, before.hold, {"lots": [("BR-1", None)], "on": DAY}),
    (GO, before.hold, {"lots": [("BR-1", DAY)], "on": DAY}),
    (LOOK_AGAIN, before.hold, {"lots": [("BR-1", dt.date(2026, 9, 11))], "on": DAY}),
    # start
    (GO, before.start, VESSEL | {"usable_l": 23.2, "wanted_l": 20.4}),
    (GO, before.start, VESSEL | {"usable_l": 20.4, "wanted_l": 20.4}),
    (STOP, before.start, VESSEL | {"usable_l": 16.66, "wanted_l": 20.4}),
    (LOOK_AGAIN, before.start, VESSEL | {"usable_l": None, "wanted_l": 20.4}),
    (LOOK_AGAIN, before.start, VESSEL | {"usable_l": 23.2, "wanted_l": 9, "missing": ["Pectic enzyme"]}),
    (LOOK_AGAIN, before.start, VESSEL | {"usable_l": 23.2, "wanted_l": 9, "is_free": False}),
    # yeast in: the worked example has 34 degC against 30, then 24 degC
    (STOP, wine.yeast_in, YEAST | {"must_c": 34}),
    (GO, wine.yeast_in, YEAST | {"must_c": 24}),
    (GO, wine.yeast_in, YEAST | {"must_c": 30}),
    (GO, wine.yeast_in, YEAST | {"must_c": 15}),
    (STOP, wine.yeast_in, YEAST | {"must_c": 14.9}),
    (STOP, wine.yeast_in, YEAST | {"must_c": None}),
    (STOP, wine.yeast_in, YEAST | {"must_c": 24, "sulphite_hours_ago": 23.9}),
    (GO, wine.yeast_in, YEAST | {"must_c": 24, "sulphite_hours_ago": 24}),
    (LOOK_AGAIN, wine.yeast_in, YEAST | {"must_c": 24, "yeast_high_c": None}),
    # bottle still
    (STOP, wine.bottle_still, {"stillness": "moving", "finished": False, "is_steadied": False}),
    (STOP, wine.bottle_still, {"stillness": "still once", "finished": False, "is_steadied": False}),
    (STOP, wine.bottle_still, {"stillness": "still twice", "finished": False, "is_steadied": False}),
    (GO, wine.bottle_still, {"stillness": "still twice", "finished": True, "is_steadied": False}),
    (GO, wine.bottle_still, {"stillness": "moving", "finished": False, "is_steadied": True}),
    # bottle with fizz
    (GO, wine.bottle_with_fizz, WHOLE | {"stillness": "still twice", "finished": True}),
    (STOP, wine.bottle_with_fizz, WHOLE | {"stillness": "still once", "finished": False}),
    (STOP, wine.bottle_with_fizz, WHOLE | {"stillness": "still twice", "finished": False}),
    (STOP, wine.bottle_with_fizz, WHOLE | {"stillness": "still twice", "finished": True, "is_steadied": True}),
    (STOP, wine.bottle_with_fizz, WHOLE | {"stillness": "still twice", "finished": True, "is_fined_bare": True}),
    (STOP, wine.bottle_with_fizz, WHOLE | {"stillness": "still twice", "finished": True, "left_counted": False}),
    # pressure: 68 % of 6 bar goes, over 80 % is looked at, over the rating stops
    (GO, wine.pressure, {"gauge_bar": 4.07, "bottle_rated_bar": 6, "closure_rated_bar": 7}),
    (GO, wine.pressure, {"gauge_bar": 4.8, "bottle_rated_bar": 6, "closure_rated_bar": 7}),
    (LOOK_AGAIN, wine.pressure, {"gauge_bar": 4.81, "bottle_rated_bar": 6, "closure_rated_bar": 7}),
    (LOOK_AGAIN, wine.pressure, {"gauge_bar": 6, "bottle_rated_bar": 6, "closure_rated_bar": 7}),
    (STOP, wine.pressure, {"gauge_bar": 6.01, "bottle_rated_bar": 6, "closure_rated_bar": 7}),
    (STOP, wine.pressure, {"gauge_bar": 4.02, "bottle_rated_bar": 3, "closure_rated_bar": 6}),
    (STOP, wine.pressure, {"gauge_bar": 4.02, "bottle_rated_bar": 6, "closure_rated_bar": 3}),
    (STOP, wine.pressure, {"gauge_bar": 0.1, "bottle_rated_bar": None, "closure_rated_bar": 6}),
    (STOP, wine.pressure, {"gauge_bar": 0.1, "bottle_rated_bar": 6, "closure_rated_bar": None}),
    # sweet and live
    (STOP, wine.sweet_and_live, {"sugar_g_per_l": 30, "yeast_alive": True, "closed": True}),
    (STOP, wine.sweet_and_live, {"sugar_g_per_l": None, "yeast_alive": True, "closed": True}),
    (STOP, wine.sweet_and_live, {"sugar_g_per_l": 4, "yeast_alive": True, "closed": True}),
    (GO, wine.sweet_and_live, {"sugar_g_per_l": 3.9, "yeast_alive": True, "closed": True}),
    (GO, wine.sweet_and_live, {"sugar_g_per_l": 30, "yeast_alive": False, "closed": True}),
    (GO, wine.sweet_and_live, {"sugar_g_per_l": 30, "yeast_alive": True, "closed": False}),
]  # fmt: skip


@pytest.mark.parametrize(("level", "gate", "facts"), ROWS)
def test_a_gate_judges_by_its_table(level, gate, facts):
    assert gate(**facts).level == level


@pytest.mark.parametrize(("level", "gate", "facts"), [row for row in ROWS if row[0] != GO])
def test_whoever_is_held_up_is_told_what_would_open_it(level, gate, facts):
    reasons = gate(**facts).reasons

    assert all(reason.words and reason.ways_out for reason in reasons)


@pytest.mark.parametrize(
    ("after", "level"),
    [(None, LOOK_AGAIN), (160, GO), (160.1, LOOK_AGAIN), (200, LOOK_AGAIN), (201, STOP)],
)
def test_a_dose_is_judged_by_what_it_comes_to(after, level):
    assert wine.dose(Limit("total SO2", after, 200)).level == level


def test_a_gate_tells_all_its_reasons_at_once_the_gravest_first():
    found = before.start(
        missing=["Pectic enzyme", "Wine yeast"],
        vessel="Small bucket",
        usable_l=16.66,
        wanted_l=20.4,
        is_free=False,
    )

    assert [reason.level for reason in found.reasons] == [STOP] + 3 * [LOOK_AGAIN]


def test_no_gate_ever_says_safe():
    words = " ".join(
        " ".join((reason.words, *reason.ways_out))
        for _, gate, facts in ROWS
        for reason in gate(**facts).reasons
    )

    assert "safe" not in words


def test_a_place_that_grows_warmer_is_judged_at_once():
    cool = wine.pressure(gauge_bar=4.07, bottle_rated_bar=6, closure_rated_bar=7)
    warm = wine.pressure(gauge_bar=6.5, bottle_rated_bar=6, closure_rated_bar=7)

    found = wine.place(name="the sun room", before=cool, after=warm)

    assert found.level == STOP
    assert found.reasons[0].words.startswith("in the sun room: 6.50 bar is over the bottle")
    assert "move it somewhere cooler today" in found.reasons[0].ways_out[0]
    assert wine.place(name="the cellar", before=cool, after=cool).level == GO


def test_the_crown_capped_bottle_of_the_worked_example_is_stopped_with_the_most_it_may_have():
    bottle = {"fill_l": 0.5, "brimful_l": 0.52, "temperature_c": 30.0, "abv": 11.3}
    bar = pressure.gauge_bar(co2_g_per_l=carbonation.co2_of_volumes_g_per_l(volumes=3.0), **bottle)
    most = carbonation.volumes_of_co2(
        co2_g_per_l=pressure.most_co2_g_per_l(rated_gauge_bar=3.0, **bottle)
    )

    found = wine.pressure(
        gauge_bar=bar, bottle_rated_bar=3.0, closure_rated_bar=6.0, most_volumes=most
    )

    # Worked example: 4.02 bar (0.15 either way), at most 2.39 volumes (3 %).
    assert bar == pytest.approx(4.02, abs=0.15)
    assert most == pytest.approx(2.39, rel=0.03)
    assert found.level == STOP
    assert found.reasons[0].ways_out[0] == f"less sugar: at most {most:.2f} volumes"


def test_a_reason_is_never_to_go():
    with pytest.raises(ValueError, match="to look again or to stop"):
        Reason(GO, "all is well")


def test_a_verdict_without_reasons_is_open():
    assert Verdict("start").level == GO
