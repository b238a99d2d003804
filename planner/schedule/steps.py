"""On which day does each step of a batch fall, forwards from a start and backwards from a wish?

The steps form a stiff skeleton of nominal days; the day itself is the first on or after the
nominal day that keeps the step's weekend rule and its least distance from its anchor.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from itertools import combinations

from planner.schedule.rules import (
    FIRST_YEAR,
    ScheduleRefusal,
    StepRule,
    Weekend,
    chain_to_start,
    refuse_bad_rules,
    refuse_year,
    rule_of,
    rules_by_key,
    spoken,
    with_weekend,
)


@dataclass(frozen=True)
class Dated:
    """A step with the day the plan gives it and the day it is to be done."""

    key: str
    nominal: date
    day: date
    pinned: bool = False
    done: bool = False

    @property
    def fixed(self) -> bool:
        return self.pinned or self.done


@dataclass(frozen=True)
class Room:
    """The days a step may take, both included; no latest when nothing limits it."""

    earliest: date
    latest: date | None

    def __contains__(self, day: date) -> bool:
        return self.earliest <= day and (self.latest is None or day <= self.latest)


def lay_out(start: date, rules: Sequence[StepRule]) -> list[Dated]:
    """Every step with its day, in the order of the rules."""
    refuse_bad_rules(rules)
    refuse_year(start, rules[0].key)
    laid: dict[str, Dated] = {}
    for rule in rules:
        anchor = laid.get(rule.anchor)
        nominal = (anchor.nominal if anchor else start) + timedelta(days=rule.offset_days)
        earliest = (anchor.day if anchor else start) + timedelta(days=rule.least_days or 0)
        day = rule.weekend.first_from(max(nominal, earliest))
        refuse_year(day, rule.key)
        laid[rule.key] = Dated(key=rule.key, nominal=nominal, day=day)
    return list(laid.values())


def move(steps: Sequence[Dated], key: str, new_day: date, rules: Sequence[StepRule]) -> list[Dated]:
    """The step on its new day, and every later step that is not fixed as many days on.

    A day a person chose is kept whatever the weekend rule; the later steps keep theirs.
    """
    by_key = rules_by_key(rules)
    place = _place(steps, key)
    _refuse_moving(steps, place, new_day, by_key)
    by = new_day - steps[place].day
    moved = list(steps)
    moved[place] = replace(steps[place], nominal=new_day, day=new_day)
    for later in range(place + 1, len(moved)):
        if not moved[later].fixed:
            nominal = moved[later].nominal + by
            moved[later] = _laid_again(moved, later, nominal, by_key)
            refuse_year(nominal, moved[later].key)
            refuse_year(moved[later].day, moved[later].key)
    _refuse_overtaking(steps, moved, key, by_key)
    return moved


def set_weekend(
    steps: Sequence[Dated], key: str, weekend: Weekend, rules: Sequence[StepRule]
) -> list[Dated]:
    """The step laid again under another weekend rule.

    Other days stay, save those that would fall too near to the step they count from.
    """
    by_key = rules_by_key(with_weekend(rules, key, weekend))
    place = _place(steps, key)
    if steps[place].fixed:
        how = "is done" if steps[place].done else "is pinned"
        raise ScheduleRefusal(
            f"{by_key[key].name} {how} on {spoken(steps[place].day)}: its day stays.", key
        )
    laid = list(steps)
    laid[place] = _laid_again(laid, place, steps[place].nominal, by_key)
    touched = {key}
    for later in range(place + 1, len(laid)):
        step = laid[later]
        rule = rule_of(by_key, step.key)
        if rule.anchor not in touched or step.fixed:
            continue
        # A step on its nominal day may stand there by a person's choice, so it is left alone.
        if step.day != step.nominal or step.day < _earliest(laid, rule, by_key):
            laid[later] = _laid_again(laid, later, step.nominal, by_key)
            touched.add(step.key)
    _refuse_overtaking(steps, laid, key, by_key)
    return laid


def backwards(target_day: date, key: str, rules: Sequence[StepRule]) -> date:
    """The latest start that puts the step on the wanted day."""
    refuse_bad_rules(rules)
    by_key = rules_by_key(rules)
    chain = chain_to_start(by_key, key)
    refuse_year(target_day, key)
    offset = sum(rule.offset_days for rule in chain)
    if offset > (target_day - date(FIRST_YEAR, 1, 1)).days:
        raise ScheduleRefusal(f"The start would fall before the year {FIRST_YEAR}.", key)
    latest = target_day - timedelta(days=offset)
    # Each step of the chain may lose up to six days to its weekend rule.
    for earlier in range(6 * len(chain) + 1):
        start = latest - timedelta(days=earlier)
        if _step(lay_out(start, rules), key).day == target_day:
            return start
    raise ScheduleRefusal(
        f"No start puts {by_key[key].name} on {spoken(target_day)}: a weekend rule forbids it.",
        key,
    )


def room(steps: Sequence[Dated], key: str, rules: Sequence[StepRule]) -> Room:
    """The days a step may take, given the day of the step it counts from."""
    by_key = rules_by_key(rules)
    rule = rule_of(by_key, key)
    latest = None
    if rule.most_days is not None:
        latest = _anchor_day(steps, rule, by_key) + timedelta(days=rule.most_days)
    return Room(earliest=_earliest(steps, rule, by_key), latest=latest)


def outside_room(steps: Sequence[Dated], rules: Sequence[StepRule]) -> list[str]:
    """Keys of the steps whose day lies outside their least and most days."""
    return [step.key for step in steps if step.day not in room(steps, step.key, rules)]


def moved_keys(before: Iterable[Dated], after: Iterable[Dated]) -> list[str]:
    """Keys of the steps whose day differs, in their new order."""
    days = {step.key: step.day for step in before}
    return [step.key for step in after if days.get(step.key) != step.day]


def _laid_again(
    steps: Sequence[Dated], place: int, nominal: date, by_key: dict[str, StepRule]
) -> Dated:
    rule = rule_of(by_key, steps[place].key)
    day = rule.weekend.first_from(max(nominal, _earliest(steps, rule, by_key)))
    return replace(steps[place], nominal=nominal, day=day)


def _earliest(steps: Sequence[Dated], rule: StepRule, by_key: dict[str, StepRule]) -> date:
    return _anchor_day(steps, rule, by_key) + timedelta(days=rule.least_days or 0)


def _anchor_day(steps: Sequence[Dated], rule: StepRule, by_key: dict[str, StepRule]) -> date:
    """The day a step counts from; the start is told by the first step of all."""
    if rule.anchor is not None:
        return _step(steps, rule.anchor).day
    return steps[0].nominal - timedelta(days=rule_of(by_key, steps[0].key).offset_days)


def _place(steps: Sequence[Dated], key: str) -> int:
    for place, step in enumerate(steps):
        if step.key == key:
            return place
    raise ScheduleRefusal(f"There is no step {key} in this plan.", key)


def _step(steps: Sequence[Dated], key: str) -> Dated:
    return steps[_place(steps, key)]


def _refuse_moving(
    steps: Sequence[Dated], place: int, new_day: date, by_key: dict[str, StepRule]
) -> None:
    step, rule = steps[place], rule_of(by_key, steps[place].key)
    if step.done:
        raise ScheduleRefusal(f"{rule.name} is done on {spoken(step.day)}: it stays.", step.key)
    refuse_year(new_day, step.key)
    bounds = [steps[place - 1]] if place else []
    bounds += [_step(steps, rule.anchor)] if rule.anchor else []
    for bound in bounds:
        if new_day < bound.day:
            raise ScheduleRefusal(
                f"{rule.name} on {spoken(new_day)} would come before "
                f"{rule_of(by_key, bound.key).name} on {spoken(bound.day)}.",
                step.key,
            )


def _refuse_overtaking(
    before: Sequence[Dated], after: Sequence[Dated], key: str, by_key: dict[str, StepRule]
) -> None:
    """Refuse where a step newly passes one that is pinned or done."""
    for upper, lower in combinations(range(len(after)), 2):
        newly = after[upper].day > after[lower].day and before[upper].day <= before[lower].day
        if newly and (after[upper].fixed or after[lower].fixed):
            upper_name, lower_name = (
                rule_of(by_key, after[place].key).name for place in (upper, lower)
            )
            raise ScheduleRefusal(
                f"{lower_name} on {spoken(after[lower].day)} would come before {upper_name} on "
                f"{spoken(after[upper].day)}, and one of them is pinned or done.",
                key,
            )
