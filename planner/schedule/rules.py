"""What makes a step's day: its anchor, its days after it and its weekend rule."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import date, timedelta
from enum import StrEnum

# Ten years and a little: longer than any country wine is kept; a judgement, no source.
MOST_OFFSET_DAYS = 3660
# The years in which the house keeps dates.
FIRST_YEAR, LAST_YEAR = 1900, 2199
_SATURDAY = 5


class ScheduleRefusal(ValueError):
    """A plan that cannot be laid out or a move that cannot be made; `key` names the step."""

    def __init__(self, message: str, key: str = ""):
        super().__init__(message)
        self.key = key


class Weekend(StrEnum):
    ANY = "any"
    WEEKEND = "weekend"
    WORKDAY = "workday"

    def first_from(self, day: date) -> date:
        """The first day on or after `day` that the rule allows."""
        weekday = day.weekday()
        if self is Weekend.WEEKEND and weekday < _SATURDAY:
            return day + timedelta(days=_SATURDAY - weekday)
        if self is Weekend.WORKDAY and weekday >= _SATURDAY:
            return day + timedelta(days=7 - weekday)
        return day


@dataclass(frozen=True, kw_only=True)
class StepRule:
    """A step so many days after the start (no anchor) or after an earlier step."""

    key: str
    anchor: str | None = None
    offset_days: int = 0
    least_days: int | None = None
    most_days: int | None = None
    weekend: Weekend = Weekend.ANY
    title: str = ""

    @property
    def name(self) -> str:
        return self.title or self.key


def with_weekend(rules: Iterable[StepRule], key: str, weekend: Weekend) -> list[StepRule]:
    """The same rules with one step's weekend rule changed."""
    return [replace(rule, weekend=weekend) if rule.key == key else rule for rule in rules]


def rules_by_key(rules: Iterable[StepRule]) -> dict[str, StepRule]:
    return {rule.key: rule for rule in rules}


def rule_of(by_key: dict[str, StepRule], key: str) -> StepRule:
    if key not in by_key:
        raise ScheduleRefusal(f"There is no rule for the step {key}.", key)
    return by_key[key]


def chain_to_start(by_key: dict[str, StepRule], key: str) -> list[StepRule]:
    """The step's rule and those of all the steps it counts from."""
    chain = [rule_of(by_key, key)]
    while chain[-1].anchor is not None:
        chain.append(rule_of(by_key, chain[-1].anchor))
    return chain


def spoken(day: date) -> str:
    return f"{day:%a} {day.day} {day:%b %Y}"


def refuse_bad_rules(rules: Sequence[StepRule]) -> None:
    if not rules:
        raise ScheduleRefusal("There are no steps to lay out.")
    by_key = rules_by_key(rules)
    seen: set[str] = set()
    for rule in rules:
        problem = _problem(rule, seen, by_key)
        if problem:
            raise ScheduleRefusal(f"{rule.name} {problem}", rule.key)
        seen.add(rule.key)


def _problem(rule: StepRule, seen: set[str], by_key: dict[str, StepRule]) -> str:
    """What is wrong with a rule, given the keys of those above it; empty if nothing."""
    if rule.key in seen:
        return "stands twice in the list."
    if rule.anchor is not None and rule.anchor not in by_key:
        return f"counts from {rule.anchor}, which is not a step here."
    if rule.anchor is not None and rule.anchor not in seen:
        return _problem_of_order(rule, by_key)
    if rule.offset_days < 0:
        return "would come before the step it counts from."
    if max(rule.offset_days, rule.least_days or 0, rule.most_days or 0) > MOST_OFFSET_DAYS:
        return f"lies more than {MOST_OFFSET_DAYS} days after the step it counts from."
    least = rule.least_days or 0
    most = MOST_OFFSET_DAYS if rule.most_days is None else rule.most_days
    if not 0 <= least <= rule.offset_days <= most:
        return "must have least days, days and most days in rising order."
    return ""


def _problem_of_order(rule: StepRule, by_key: dict[str, StepRule]) -> str:
    passed, anchor = {rule.key}, rule.anchor
    while anchor in by_key and anchor not in passed:
        passed.add(anchor)
        anchor = by_key[anchor].anchor
    if anchor == rule.key:
        return "counts from itself in a circle."
    return f"stands above {by_key[rule.anchor].name}, from which it counts."


def refuse_year(day: date, key: str) -> None:
    if not FIRST_YEAR <= day.year <= LAST_YEAR:
        raise ScheduleRefusal(
            f"{spoken(day)} is outside the years {FIRST_YEAR} to {LAST_YEAR}.", key
        )
