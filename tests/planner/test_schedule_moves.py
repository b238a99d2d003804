from dataclasses import replace
from datetime import date

import pytest

from planner.schedule import (
    ScheduleRefusal,
    StepRule,
    Weekend,
    lay_out,
    move,
    set_weekend,
    with_weekend,
)

MONDAY = date(2026, 9, 7)


def days_of(steps):
    return [step.day for step in steps]


def test_later_steps_follow_the_days_seen_and_not_the_nominal_ones():
    rules = [
        StepRule(key="strain", weekend=Weekend.WEEKEND),
        StepRule(key="rack", offset_days=30),
    ]
    laid = lay_out(MONDAY, rules)

    moved = move(laid, "strain", date(2026, 9, 13), rules)

    assert days_of(laid) == [date(2026, 9, 12), date(2026, 10, 7)]
    assert days_of(moved) == [date(2026, 9, 13), date(2026, 10, 8)]


def test_a_weekend_rule_taken_back_lets_a_pushed_step_return():
    rules = [
        StepRule(key="check"),
        StepRule(key="check again", anchor="check", offset_days=3, least_days=3),
    ]
    before = lay_out(MONDAY, rules)

    pushed = set_weekend(before, "check", Weekend.WEEKEND, rules)
    back = set_weekend(pushed, "check", Weekend.ANY, with_weekend(rules, "check", Weekend.WEEKEND))

    assert days_of(pushed) == [date(2026, 9, 12), date(2026, 9, 15)]
    assert back == before


def test_a_step_never_moves_before_the_one_it_counts_from():
    rules = [
        StepRule(key="mash"),
        StepRule(key="rack", offset_days=28),
        StepRule(key="read gravity", offset_days=1),
        StepRule(key="top up", anchor="rack", offset_days=3),
    ]

    with pytest.raises(ScheduleRefusal, match="top up on Thu 17 Sep 2026 would come before rack"):
        move(lay_out(MONDAY, rules), "top up", date(2026, 9, 17), rules)


def test_a_pinned_step_already_passed_does_not_stop_a_move():
    rules = [
        StepRule(key="mash"),
        StepRule(key="rack", offset_days=28),
        StepRule(key="read gravity", offset_days=1),
    ]
    mash, rack, reading = lay_out(MONDAY, rules)

    moved = move([mash, rack, replace(reading, pinned=True)], "mash", date(2026, 9, 8), rules)

    assert days_of(moved) == [date(2026, 9, 8), date(2026, 10, 6), date(2026, 9, 8)]


def test_no_nominal_day_falls_before_the_years_kept():
    rules = [StepRule(key="strain", weekend=Weekend.WEEKEND), StepRule(key="read gravity")]

    with pytest.raises(ScheduleRefusal, match="1900 to 2199") as refused:
        move(lay_out(MONDAY, rules), "strain", date(1900, 1, 1), rules)
    assert refused.value.key == "read gravity"


def test_moving_onto_its_own_day_changes_nothing():
    rules = [StepRule(key="strain"), StepRule(key="rack", offset_days=30)]
    laid = lay_out(MONDAY, rules)

    assert move(laid, "strain", MONDAY, rules) == laid
