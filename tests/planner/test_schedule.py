from datetime import date

import pytest

from planner.schedule import (
    Dated,
    ScheduleRefusal,
    StepRule,
    Weekend,
    lay_out,
    move,
    moved_keys,
    set_weekend,
    with_weekend,
)

DAMSON = [
    StepRule(key="mash"),
    StepRule(key="enzyme and yeast", offset_days=1),
    StepRule(key="press", offset_days=7, least_days=5, most_days=12),
    StepRule(key="first rack", offset_days=28),
    StepRule(key="second rack", offset_days=91),
    StepRule(key="check", offset_days=119),
    StepRule(key="check again", offset_days=122),
    StepRule(key="stabilise", offset_days=122),
    StepRule(key="bottle", offset_days=133),
    StepRule(key="ready", anchor="bottle", offset_days=180),
]
START = date(2026, 9, 12)


def days_of(steps):
    return [step.day for step in steps]


def with_flag(steps, key, **flags):
    return [
        Dated(step.key, step.nominal, step.day, **flags) if step.key == key else step
        for step in steps
    ]


def test_a_damson_wine_is_laid_out_from_its_start():
    assert days_of(lay_out(START, DAMSON)) == [
        date(2026, 9, 12),
        date(2026, 9, 13),
        date(2026, 9, 19),
        date(2026, 10, 10),
        date(2026, 12, 12),
        date(2027, 1, 9),
        date(2027, 1, 12),
        date(2027, 1, 12),
        date(2027, 1, 23),
        date(2027, 7, 22),
    ]


def test_pressing_two_days_late_moves_eight_events():
    before = lay_out(START, DAMSON)

    after = move(before, "press", date(2026, 9, 21), DAMSON)

    assert days_of(after) == [
        date(2026, 9, 12),
        date(2026, 9, 13),
        date(2026, 9, 21),
        date(2026, 10, 12),
        date(2026, 12, 14),
        date(2027, 1, 11),
        date(2027, 1, 14),
        date(2027, 1, 14),
        date(2027, 1, 25),
        date(2027, 7, 24),
    ]
    assert len(moved_keys(before, after)) == 8


def test_weekends_only_moves_the_two_rackings_and_nothing_else():
    moved = move(lay_out(START, DAMSON), "press", date(2026, 9, 21), DAMSON)

    once = set_weekend(moved, "first rack", Weekend.WEEKEND, DAMSON)
    rules = with_weekend(DAMSON, "first rack", Weekend.WEEKEND)
    twice = set_weekend(once, "second rack", Weekend.WEEKEND, rules)

    assert moved_keys(moved, twice) == ["first rack", "second rack"]
    assert twice[3].day == date(2026, 10, 17)
    assert twice[4].day == date(2026, 12, 19)


def test_a_moved_plan_keeps_the_weekend_rules_of_the_later_steps():
    rules = with_weekend(DAMSON, "first rack", Weekend.WEEKEND)
    rules = with_weekend(rules, "second rack", Weekend.WEEKEND)

    moved = move(lay_out(START, rules), "press", date(2026, 9, 21), rules)

    assert [moved[3].nominal, moved[3].day] == [date(2026, 10, 12), date(2026, 10, 17)]
    assert [moved[4].nominal, moved[4].day] == [date(2026, 12, 14), date(2026, 12, 19)]
    assert moved[5].day == date(2027, 1, 11)


def test_a_weekend_rule_taken_back_gives_the_old_days():
    before = lay_out(date(2026, 9, 14), DAMSON)
    weekends = set_weekend(before, "bottle", Weekend.WEEKEND, DAMSON)
    rules = with_weekend(DAMSON, "bottle", Weekend.WEEKEND)

    assert moved_keys(before, weekends) == ["bottle"]
    assert set_weekend(weekends, "bottle", Weekend.ANY, rules) == before


def test_working_days_only_moves_saturday_and_sunday_to_monday():
    for_work = [StepRule(key="post labels", weekend=Weekend.WORKDAY)]

    assert lay_out(date(2026, 9, 12), for_work)[0].day == date(2026, 9, 14)
    assert lay_out(date(2026, 9, 13), for_work)[0].day == date(2026, 9, 14)
    assert lay_out(date(2026, 9, 14), for_work)[0].day == date(2026, 9, 14)


def test_a_day_a_person_chose_is_kept_against_the_weekend_rule():
    rules = with_weekend(DAMSON, "press", Weekend.WEEKEND)

    moved = move(lay_out(START, rules), "press", date(2026, 9, 22), rules)

    assert moved[2].nominal == moved[2].day == date(2026, 9, 22)


def test_a_pinned_and_a_done_step_stay_when_an_earlier_one_moves():
    steps = with_flag(lay_out(START, DAMSON), "second rack", pinned=True)
    steps = with_flag(steps, "first rack", done=True)

    moved = move(steps, "press", date(2026, 9, 21), DAMSON)

    assert moved[3].day == date(2026, 10, 10)
    assert moved[4].day == date(2026, 12, 12)
    assert moved[5].day == date(2027, 1, 11)


def test_a_later_step_never_comes_nearer_than_its_least_days():
    rules = [
        StepRule(key="sulphite", weekend=Weekend.WEEKEND),
        StepRule(key="yeast", anchor="sulphite", offset_days=2, least_days=1),
    ]

    laid = lay_out(date(2026, 9, 7), rules)

    assert days_of(laid) == [date(2026, 9, 12), date(2026, 9, 13)]
    assert laid[1].nominal == date(2026, 9, 9)


def test_a_new_weekend_rule_pushes_what_would_come_too_near():
    rules = [
        StepRule(key="check"),
        StepRule(key="check again", anchor="check", offset_days=3, least_days=3),
        StepRule(key="bottle", offset_days=9),
    ]

    laid = set_weekend(lay_out(date(2026, 9, 7), rules), "check", Weekend.WEEKEND, rules)

    assert days_of(laid) == [date(2026, 9, 12), date(2026, 9, 15), date(2026, 9, 16)]


def test_a_chosen_day_stays_when_the_step_before_gets_a_weekend_rule():
    rules = [
        StepRule(key="strain"),
        StepRule(key="rack", anchor="strain", offset_days=30, weekend=Weekend.WEEKEND),
    ]
    chosen = move(lay_out(date(2026, 9, 7), rules), "rack", date(2026, 10, 14), rules)

    laid = set_weekend(chosen, "strain", Weekend.WEEKEND, rules)

    assert days_of(laid) == [date(2026, 9, 12), date(2026, 10, 14)]


@pytest.mark.parametrize(
    ("key", "new_day", "message"),
    [
        ("press", date(2026, 9, 12), "press on Sat 12 Sep 2026 would come before enzyme and yeast"),
        ("ready", date(2027, 1, 22), "ready on Fri 22 Jan 2027 would come before bottle"),
        ("press", date(2200, 1, 1), "outside the years 1900 to 2199"),
        ("mash", date(1899, 12, 31), "outside the years 1900 to 2199"),
        ("press", date(2199, 12, 1), "outside the years 1900 to 2199"),
        ("fine", date(2026, 9, 21), "no step fine in this plan"),
    ],
)
def test_a_move_that_cannot_be_is_refused(key, new_day, message):
    with pytest.raises(ScheduleRefusal, match=message):
        move(lay_out(START, DAMSON), key, new_day, DAMSON)


def test_a_done_step_does_not_move():
    steps = with_flag(lay_out(START, DAMSON), "press", done=True)

    with pytest.raises(ScheduleRefusal, match="press is done on Sat 19 Sep 2026") as refused:
        move(steps, "press", date(2026, 9, 21), DAMSON)
    assert refused.value.key == "press"


@pytest.mark.parametrize("flag", ["pinned", "done"])
def test_a_move_past_a_fixed_step_is_refused(flag):
    steps = with_flag(lay_out(START, DAMSON), "first rack", **{flag: True})

    with pytest.raises(ScheduleRefusal, match="first rack on Sat 10 Oct 2026 would come before"):
        move(steps, "press", date(2026, 10, 11), DAMSON)


def test_a_step_pushed_before_a_pinned_one_is_refused():
    steps = with_flag(lay_out(START, DAMSON), "second rack", pinned=True)

    with pytest.raises(ScheduleRefusal, match="check on .* would come before second rack"):
        move(steps, "mash", date(2026, 8, 13), DAMSON)


@pytest.mark.parametrize(("flag", "how"), [("pinned", "is pinned"), ("done", "is done")])
def test_a_fixed_step_takes_no_new_weekend_rule(flag, how):
    steps = with_flag(lay_out(START, DAMSON), "bottle", **{flag: True})

    with pytest.raises(ScheduleRefusal, match=f"bottle {how} on Sat 23 Jan 2027"):
        set_weekend(steps, "bottle", Weekend.WORKDAY, DAMSON)
