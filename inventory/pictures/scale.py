"""Where on a picture does a day or a number stand, and what is written along the edge?"""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import date, timedelta
from math import ceil, floor, isfinite, log10

Value = float | date

# Up to so many days weeks are marked, beyond that months.
WEEKS_UNTIL_DAYS = 100
MOST_LABELS = 6
MONTHS_IN_YEAR = 12
# A month with fewer days in sight gets no name: three letters are as wide as that on a phone.
NAMED_FROM_DAYS = 18
# A week that begins further along gets no name, which would hang over the edge; percent.
NAMED_UNTIL = 95
# Below so much the round number is this one: the bounds of Heckbert's rounding, see `round_step`.
NEAREST = ((1.5, 1), (3, 2), (7, 5))


def number(value: Value) -> float:
    """A day counts as the moment it begins."""
    found = value.toordinal() if isinstance(value, date) else float(value)
    if not isfinite(found):
        raise ValueError(f"A picture has no place for {value}.")
    return found


@dataclass(frozen=True)
class Scale:
    """From low, at 0 percent, to high, at 100."""

    low: float
    high: float

    def __post_init__(self):
        if not number(self.low) < number(self.high):
            raise ValueError(f"A scale rises; {self.low} to {self.high} does not.")

    @classmethod
    def of_days(cls, first: date, last: date) -> "Scale":
        """From the beginning of the first day to the end of the last."""
        return cls(first.toordinal(), last.toordinal() + 1)

    def holds(self, value: Value) -> bool:
        return self.low <= number(value) <= self.high

    def at(self, value: Value) -> float:
        """Percent of the way; what lies outside stands at the edge."""
        share = (number(value) - self.low) / (self.high - self.low)
        return 100 * min(max(share, 0.0), 1.0)


@dataclass(frozen=True)
class Tick:
    """A line across the field and words beside it, both at percent; `below` is a second line."""

    at: float
    words: str = ""
    words_at: float = 0.0
    below: str = ""


@dataclass(frozen=True)
class Axis:
    scale: Scale
    ticks: tuple[Tick, ...]
    name: str = ""

    @property
    def has_second_line(self) -> bool:
        return any(tick.below for tick in self.ticks)


def day_words(day: date) -> str:
    return f"{day.day} {day:%b}"


def date_words(day: date) -> str:
    return f"{day_words(day)} {day.year}"


def days_words(first: date, last: date) -> str:
    """From one day to another, both included: 16 to 18 Sep."""
    if first == last:
        return day_words(first)
    month = (first.year, first.month) == (last.year, last.month)
    return f"{first.day if month else day_words(first)} to {day_words(last)}"


def day_axis(first: date, last: date) -> Axis:
    """Weeks for a short time, months for a longer one; both days are included."""
    scale = Scale.of_days(first, last)
    short = scale.high - scale.low <= WEEKS_UNTIL_DAYS
    return Axis(scale, tuple(_weeks(scale, first, last) if short else _months(scale, first, last)))


def _weeks(scale: Scale, first: date, last: date) -> Iterator[Tick]:
    step = timedelta(weeks=ceil((last - first).days / 7 / MOST_LABELS) or 1)
    day = first + timedelta(days=-first.weekday() % 7)
    while day <= last:
        at = scale.at(day)
        yield Tick(at, day_words(day) if at <= NAMED_UNTIL else "", at)
        day += step


def _months(scale: Scale, first: date, last: date) -> Iterator[Tick]:
    """A line where a month begins, its name in the middle of what is seen of it."""
    months = (last.year - first.year) * MONTHS_IN_YEAR + last.month - first.month + 1
    step, years = ceil(months / (MONTHS_IN_YEAR + 1)), last.year > first.year
    for index in range(months):
        begins, ends = _month(first, index), _month(first, index + 1)
        seen = max(begins, first), min(ends, last + timedelta(days=1))
        named = index % step == 0 and (seen[1] - seen[0]).days >= NAMED_FROM_DAYS
        year = f"{begins.year}" if years and (index == 0 or begins.month == 1) else ""
        middle = (scale.at(seen[0]) + scale.at(seen[1])) / 2
        yield Tick(scale.at(begins), f"{begins:%b}" if named else "", middle, year if named else "")


def _month(first: date, index: int) -> date:
    """The first of the month so many months after the month of a day."""
    years, month = divmod(first.month - 1 + index, MONTHS_IN_YEAR)
    return date(first.year + years, month + 1, 1)


def round_step(reach: float, *, whole: bool = False) -> float:
    """1, 2 or 5 times a power of ten, nearest to a quarter of the reach; `whole` is at least 1.

    After Heckbert, "Nice numbers for graph labels", Graphics Gems (1990), p. 61.
    """
    quarter = reach / 4
    power = 10.0 ** floor(log10(quarter))
    size = next((size for most, size in NEAREST if quarter / power < most), 10)
    return max(size * power, 1.0) if whole else size * power


def value_axis(
    low: float,
    high: float,
    words: Callable[[float], str],
    *,
    name: str = "",
    tight: bool = False,
    whole: bool = False,
) -> Axis:
    """An axis with round numbers that holds low and high; `tight` keeps their very values as ends."""
    if not number(low) < number(high):
        raise ValueError(f"An axis rises; {low} to {high} does not.")
    step = round_step(high - low, whole=whole)
    begin, end = floor(low / step + 1e-9), ceil(high / step - 1e-9)
    scale = Scale(low, high) if tight else Scale(begin * step, end * step)
    values = [index * step for index in range(begin, end + 1)]
    ticks = [Tick(scale.at(v), words(v), scale.at(v)) for v in values if scale.holds(v)]
    return Axis(scale, tuple(ticks), name)
