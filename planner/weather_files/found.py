"""What was found in a weather file: days or months, and all that is odd about them."""

import datetime as dt
from collections import Counter
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field
from statistics import fmean

from inventory.refusals import Refusal
from inventory.typed import FIRST_YEAR, LAST_YEAR

# A century of daily rows of every element fits; a guard, no source.
MOST_BYTES = 30_000_000
# The coldest and hottest air ever read lie within, from memory.
COLDEST_C, HOTTEST_C = -95.0, 65.0
# With more missing between its first and last day a file tells no season; a judgement, no source.
MOST_GAPS = 1 / 3
EXAMPLES = 3

Pair = tuple[float | None, float | None]


@dataclass
class Gathered:
    """Readings as a reader meets them, with what it could not use, by reason."""

    kind: str
    tenths: bool = False
    lows: dict[dt.date, float] = field(default_factory=dict)
    highs: dict[dt.date, float] = field(default_factory=dict)
    months: dict[tuple[int, int], Pair] = field(default_factory=dict)
    left_out: Counter = field(default_factory=Counter)
    remarks: list[str] = field(default_factory=list)

    def take(self, held: dict[dt.date, float], day: dt.date, value: float) -> None:
        """Keep a value; a second one of the same day that differs is left out and counted."""
        if not FIRST_YEAR <= day.year <= LAST_YEAR:
            self.left_out[f"lie before {FIRST_YEAR} or after {LAST_YEAR}"] += 1
        elif day in held and held[day] != value:
            self.left_out["stand there twice with different figures; the first counts"] += 1
        else:
            held[day] = value


@dataclass(frozen=True)
class Found:
    """A file that could be read: each day's lowest and highest in °C, none where it is missing.

    A monthly file has `months` instead, by (year, month). `oddities` are whole sentences.
    """

    kind: str
    days: Mapping[dt.date, Pair]
    months: Mapping[tuple[int, int], Pair]
    oddities: tuple[str, ...]

    @property
    def first(self) -> dt.date:
        return min(self.days)

    @property
    def last(self) -> dt.date:
        return max(self.days)

    @property
    def missing(self) -> int:
        """Days between the first and the last without both figures."""
        whole = sum(None not in pair for pair in self.days.values())
        return (self.last - self.first).days + 1 - whole

    @property
    def lacks(self) -> str:
        """Which of the two figures the whole file is without; empty if neither."""
        if all(low is None for low, _ in self.days.values()):
            return "lowest"
        return "highest" if all(high is None for _, high in self.days.values()) else ""


def settle(gathered: Gathered) -> Found:
    """Check the figures of a reader; raises Refusal where nothing sensible is left."""
    if gathered.months:
        return Found(gathered.kind, {}, dict(gathered.months), _sentences(gathered))
    scale = 10 if gathered.tenths or _looks_like_tenths(gathered) else 1
    if scale == 10 and not gathered.tenths:
        gathered.remarks.append("Its figures are read as tenths of a degree.")
    lows = _within(gathered, gathered.lows, scale)
    highs = _within(gathered, gathered.highs, scale)
    days: dict[dt.date, Pair] = {}
    for day in sorted(lows.keys() | highs.keys()):
        low, high = lows.get(day), highs.get(day)
        if low is not None and high is not None and low > high:
            gathered.left_out["have a lowest above their highest"] += 1
        else:
            days[day] = (low, high)
    if not days:
        raise Refusal(f"Read as {gathered.kind}, but no day in it has a temperature.", field="file")
    found = Found(gathered.kind, days, {}, _sentences(gathered))
    _refuse_gaps(found)
    return found


def _refuse_gaps(found: Found) -> None:
    span = (found.last - found.first).days + 1
    missing = span - len(found.days)
    if missing > MOST_GAPS * span:
        raise Refusal(
            f"{missing / span:.0%} of its days are missing between {found.first:%d %b %Y} and "
            f"{found.last:%d %b %Y}: with so many gaps no season can be summed.",
            field="file",
        )


def _looks_like_tenths(gathered: Gathered) -> bool:
    """Whole numbers of which some are hotter than any air, and none once they are divided."""
    values = [*gathered.lows.values(), *gathered.highs.values()]
    whole = all(float(value).is_integer() for value in values)
    too_hot = sum(not COLDEST_C <= value <= HOTTEST_C for value in values)
    divided = all(COLDEST_C <= value / 10 <= HOTTEST_C for value in values)
    return whole and divided and too_hot > len(values) / 20


def _within(gathered: Gathered, held: Mapping[dt.date, float], scale: int) -> dict[dt.date, float]:
    kept = {}
    for day, value in held.items():
        if COLDEST_C <= value / scale <= HOTTEST_C:
            kept[day] = value / scale
        else:
            gathered.left_out[f"are outside {COLDEST_C:g} to {HOTTEST_C:g} °C"] += 1
    return kept


def _sentences(gathered: Gathered) -> tuple[str, ...]:
    said = [f"Left out: {count} that {why}." for why, count in gathered.left_out.most_common()]
    return (*gathered.remarks, *said)


def months_to_normals(
    months: Mapping[tuple[int, int], Pair], *, years: Iterable[int] | None = None
) -> tuple[tuple[float, ...], tuple[float, ...]]:
    """The mean lowest and highest of each month, January first, over all or some years.

    Raises Refusal where a month has no year with both figures.
    """
    wanted = None if years is None else set(years)
    lows, highs = [], []
    for month in range(1, 13):
        pairs = [
            pair
            for (year, number), pair in months.items()
            if number == month and None not in pair and (wanted is None or year in wanted)
        ]
        if not pairs:
            name = f"{dt.date(2001, month, 1):%B}"
            raise Refusal(f"No year of the file has both figures of {name}.", field="file")
        lows.append(fmean(low for low, _ in pairs))
        highs.append(fmean(high for _, high in pairs))
    return tuple(lows), tuple(highs)
