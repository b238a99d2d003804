"""How many vessels of one sort are wanted at once, and when is that more than the house owns?"""

from collections import Counter
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta

from inventory.models import Vessel
from inventory.models.vessels import VesselKind
from inventory.pictures import (
    Fact,
    Key,
    Limit,
    Line,
    Picture,
    Plot,
    date_words,
    day_axis,
    day_words,
    value_axis,
)
from planner.models import Occupancy

KEYS = (
    Key("stroke", "line", "wanted at once"),
    Key("stroke", "limit", "owned"),
    Key("box", "beyond", "more than there are"),
)

KIND_WORDS = {VesselKind.OPEN: "open vessels", VesselKind.CLOSED: "closed vessels"}


@dataclass(frozen=True)
class Use:
    """So many vessels of one sort in use by a batch; free again on the day it ends."""

    batch: str
    begins: date
    ends: date
    count: int = 1


@dataclass(frozen=True)
class Crowd:
    """From a day until another, where they are free again, so many are wanted."""

    begins: date
    ends: date
    wanted: int

    @property
    def days(self) -> int:
        return (self.ends - self.begins).days


def uses_of(vessels: Iterable[Vessel]) -> list[Use]:
    """Every use of these vessels; one query."""
    rows = Occupancy.objects.filter(vessel__in=vessels).select_related("batch")
    return [Use(row.batch.name, row.begins, row.ends) for row in rows]


def count_pictures(*, on: date) -> list[tuple[str, Picture]]:
    """Each kind of vessel kept ready: what it is called, and its year; three queries at most."""
    vessels = list(Vessel.objects.filter(archived=False))
    found = []
    for kind, words in KIND_WORDS.items():
        owned = [vessel for vessel in vessels if vessel.kind == kind]
        if owned:
            uses = uses_of(owned)
            picture = vessel_count_picture(owned=len(owned), uses=uses, words=words, on=on)
            found.append((words, picture))
    return found


def wanted(uses: Iterable[Use]) -> list[tuple[date, int]]:
    """How many are in use from each day on which that changes, by day."""
    changes: Counter[date] = Counter()
    for use in uses:
        changes[use.begins] += use.count
        changes[use.ends] -= use.count
    found, total = [], 0
    for day in sorted(day for day, change in changes.items() if change):
        total += changes[day]
        found.append((day, total))
    return found


def crowds(steps: Sequence[tuple[date, int]], owned: int) -> list[Crowd]:
    """The times in which more are wanted than owned; the last step never is one."""
    found: list[Crowd] = []
    for (begins, number), (ends, _) in zip(steps, steps[1:], strict=False):
        if number <= owned:
            continue
        if found and found[-1].ends == begins:
            before = found.pop()
            found.append(Crowd(before.begins, ends, max(before.wanted, number)))
        else:
            found.append(Crowd(begins, ends, number))
    return found


def vessel_count_picture(
    *, owned: int, uses: Sequence[Use], words: str, on: date, start: date | None = None
) -> Picture:
    """A year from the first of this month (or `start`); `words` is what they are called: jars."""
    first = start or on.replace(day=1)
    last = first + timedelta(days=364)
    steps = wanted(uses)
    if not steps or steps[0][0] > first:
        steps = [(first, 0), *steps]
    most = max([owned, *(number for _, number in steps)])
    plot = Plot(
        across=day_axis(first, last),
        up=value_axis(0, most + 1, _count, tight=True, whole=True),
        lines=[Line(f"{words} wanted", steps, steps=True)],
        limits=[Limit(f"{owned} owned", owned, beyond=True)],
        now=on,
        now_text=f"today, {day_words(on)}",
    )
    return Picture(
        title=f"How many {words} are wanted at once, {date_words(first)} to {date_words(last)}",
        finding=_finding(crowds(steps, owned), steps, owned=owned, words=words),
        drawing=plot.drawing(),
        head=("From", "Wanted", "Owned", "Too few by", "Batches"),
        facts=tuple(_fact(day, number, owned, uses) for day, number in steps if day <= last),
        keys=KEYS,
    )


def _count(value: float) -> str:
    return f"{value:.0f}"


def _fact(day: date, number: int, owned: int, uses: Sequence[Use]) -> Fact:
    there = [
        f"{use.batch} {use.count}" if use.count > 1 else use.batch
        for use in uses
        if use.begins <= day < use.ends
    ]
    lack = max(number - owned, 0)
    cells = (date_words(day), str(number), str(owned), str(lack) if lack else "none")
    return Fact((*cells, ", ".join(there) or "none"))


def _finding(
    found: Sequence[Crowd], steps: Sequence[tuple[date, int]], *, owned: int, words: str
) -> str:
    if not found:
        most = max((number for _, number in steps), default=0)
        return f"At most {most} of {owned} {words} are wanted at once."
    spans = [
        f"{crowd.wanted} wanted from {date_words(crowd.begins)} until {date_words(crowd.ends)} "
        f"({crowd.days} days)"
        for crowd in found
    ]
    return f"The house owns {owned} {words}: {'; '.join(spans)}."
