from datetime import date, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from planner.schedule import (
    ScheduleRefusal,
    StepRule,
    Weekend,
    backwards,
    lay_out,
    move,
    outside_room,
    room,
)

WINE = [
    StepRule(key="mash"),
    StepRule(key="press", anchor="mash", offset_days=7, least_days=5, most_days=12),
    StepRule(key="rack", anchor="press", offset_days=21, least_days=14),
    StepRule(key="bottle", anchor="rack", offset_days=105, weekend=Weekend.WEEKEND),
]
START = date(2026, 9, 12)

weekends = st.sampled_from(list(Weekend))
starts = st.dates(date(1904, 1, 1), date(2150, 12, 31))


@st.composite
def rules(draw):
    made = []
    for place in range(draw(st.integers(1, 6))):
        offset = draw(st.integers(0, 400))
        anchors = [None, *(rule.key for rule in made)]
        made.append(
            StepRule(
                key=f"step {place}",
                anchor=draw(st.sampled_from(anchors)),
                offset_days=offset,
                least_days=draw(st.none() | st.integers(0, offset)),
                weekend=draw(weekends),
            )
        )
    return made


@pytest.mark.parametrize(
    ("broken", "key", "message"),
    [
        ([], "", "no steps"),
        ([StepRule(key="mash"), StepRule(key="mash")], "mash", "mash stands twice"),
        ([StepRule(key="rack", anchor="press")], "rack", "rack counts from press"),
        (
            [StepRule(key="rack", anchor="press"), StepRule(key="press")],
            "rack",
            "rack stands above press",
        ),
        (
            [StepRule(key="rack", anchor="press"), StepRule(key="press", anchor="rack")],
            "rack",
            "in a circle",
        ),
        ([StepRule(key="press", anchor="press")], "press", "in a circle"),
        ([StepRule(key="press", offset_days=-1)], "press", "would come before"),
        ([StepRule(key="ready", offset_days=3661)], "ready", "more than 3660 days"),
        ([StepRule(key="ready", most_days=3661)], "ready", "more than 3660 days"),
        ([StepRule(key="press", offset_days=4, least_days=5)], "press", "rising order"),
        ([StepRule(key="press", offset_days=4, most_days=3)], "press", "rising order"),
        ([StepRule(key="press", least_days=-1)], "press", "rising order"),
    ],
)
def test_rules_that_cannot_be_laid_out_name_the_step(broken, key, message):
    with pytest.raises(ScheduleRefusal, match=message) as refused:
        lay_out(START, broken)
    assert refused.value.key == key


@pytest.mark.parametrize(
    ("start", "key"), [(date(1899, 12, 31), "mash"), (date(2199, 12, 30), "press")]
)
def test_a_plan_outside_the_years_kept_is_refused(start, key):
    with pytest.raises(ScheduleRefusal, match="1900 to 2199") as refused:
        lay_out(start, WINE)
    assert refused.value.key == key


def test_a_refusal_speaks_of_the_title_where_there_is_one():
    titled = [StepRule(key="17", offset_days=-1, title="Press the pulp")]

    with pytest.raises(ScheduleRefusal, match="Press the pulp would come before"):
        lay_out(START, titled)


def test_room_is_counted_from_the_day_of_the_anchor():
    laid = move(lay_out(START, WINE), "press", date(2026, 9, 21), WINE)

    pressing, racking = room(laid, "press", WINE), room(laid, "rack", WINE)

    assert (pressing.earliest, pressing.latest) == (date(2026, 9, 17), date(2026, 9, 24))
    assert (racking.earliest, racking.latest) == (date(2026, 10, 5), None)


def test_a_step_moved_out_of_its_room_is_named():
    laid = lay_out(START, WINE)

    late = move(laid, "press", date(2026, 9, 25), WINE)

    assert outside_room(laid, WINE) == []
    assert outside_room(late, WINE) == ["press"]


def test_the_start_is_found_that_puts_bottling_on_a_wanted_saturday():
    assert backwards(date(2027, 1, 23), "bottle", WINE) == START


def test_no_start_puts_a_weekend_step_on_a_wednesday():
    with pytest.raises(ScheduleRefusal, match="No start puts bottle on Wed 20 Jan 2027"):
        backwards(date(2027, 1, 20), "bottle", WINE)


@pytest.mark.parametrize(
    ("target", "key", "message"),
    [
        (date(1900, 2, 1), "bottle", "before the year 1900"),
        (date(2200, 1, 4), "bottle", "1900 to 2199"),
        (date(2027, 1, 23), "fine", "no rule for the step fine"),
    ],
)
def test_a_wish_that_cannot_be_is_refused(target, key, message):
    with pytest.raises(ScheduleRefusal, match=message):
        backwards(target, key, WINE)


@given(start=starts, plan=rules())
def test_every_day_keeps_its_weekend_rule_and_its_least_distance(start, plan):
    laid = lay_out(start, plan)

    assert all(
        rule.weekend.first_from(step.day) == step.day for step, rule in zip(laid, plan, strict=True)
    )
    assert all(room(laid, step.key, plan).earliest <= step.day for step in laid)
    assert all(step.nominal <= step.day for step in laid)


@given(start=starts, plan=rules(), later=st.integers(0, 200))
def test_moving_the_first_step_is_starting_later(start, plan, later):
    free = [StepRule(key=r.key, anchor=r.anchor, offset_days=r.offset_days) for r in plan]
    laid = lay_out(start, free)

    moved = move(laid, "step 0", laid[0].day + timedelta(days=later), free)

    assert moved == lay_out(start + timedelta(days=later), free)


@given(start=starts, plan=rules(), data=st.data())
def test_backwards_undoes_laying_out(start, plan, data):
    key = data.draw(st.sampled_from([rule.key for rule in plan]))
    wanted = next(step.day for step in lay_out(start, plan) if step.key == key)

    found = backwards(wanted, key, plan)

    assert found >= start
    assert next(step.day for step in lay_out(found, plan) if step.key == key) == wanted
