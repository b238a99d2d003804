"""How does the gravity of a batch fall: readings, the expected curve, and where it should end?"""

import datetime as dt

from inventory.pictures import (
    Fact,
    Key,
    Limit,
    Line,
    Picture,
    Plot,
    Point,
    date_words,
    day_axis,
    value_axis,
)
from planner.book import Book

LEAST_DAYS, MOST_DAYS = 14, 120
CURVE_STEPS = 40
KEYS = {
    "dot": Key("dot", "measured", "read off, brought to 20 °C"),
    "line": Key("stroke", "line", "expected from these readings"),
    "limit": Key("stroke", "limit", "finish to expect"),
}


def curve_picture(book: Book, *, today: dt.date) -> Picture | None:
    """None while there are not two gravities to draw."""
    if len(book.gravities) < 2:
        return None
    first = book.gravities[0].day
    last = _last_day(book, first)
    dots = [(Point(row.day, "measured"), points_of(row.figure.value)) for row in book.gravities]
    is_ahead = book.quiet and not book.stillness.finished
    lines = [Line("expected", _expected(book, first, last))] if is_ahead else []
    limits = [Limit("finish", points_of(book.finish.value))] if book.finish.is_known else []
    lowest = min([0.0, *(value for _, value in dots), *(limit.value for limit in limits)])
    highest = max(value for _, value in dots)
    plot = Plot(
        across=day_axis(first, last),
        up=value_axis(lowest - 5, highest + 5, _words, name="points"),
        lines=lines,
        limits=limits,
        measured=dots,
        now=today if first <= today <= last else None,
    )
    shown = [KEYS["dot"], *([KEYS["line"]] if lines else []), *([KEYS["limit"]] if limits else [])]
    return Picture(
        title=f"Gravity of {book.batch}",
        finding=_finding(book),
        drawing=plot.drawing(),
        head=("Day", "Read off", "At 20 °C"),
        facts=tuple(
            Fact((date_words(row.day), f"{row.reading.number:.4f}", f"{row.figure.value:.4f}"))
            for row in book.gravities
        ),
        keys=tuple(shown),
    )


def points_of(gravity: float) -> float:
    return 1000 * (gravity - 1)


def _words(value: float) -> str:
    return f"{value:.0f}"


def _last_day(book: Book, first: dt.date) -> dt.date:
    """To the last reading, or to the quiet day if that is within reason."""
    last = book.gravities[-1].day + dt.timedelta(days=3)
    quiet = book.quiet_days[0] + dt.timedelta(days=3) if book.quiet_days else last
    shown = min(
        max(quiet, first + dt.timedelta(days=LEAST_DAYS)), first + dt.timedelta(days=MOST_DAYS)
    )
    return max(last, shown)


def _expected(book: Book, first: dt.date, last: dt.date) -> list[tuple[dt.date, float]]:
    days = (last - first).days
    step = max(1, days // CURVE_STEPS)
    curve = book.quiet.curve
    return [
        (first + dt.timedelta(days=day), points_of(curve.gravity_at(day)))
        for day in range(0, days + 1, step)
    ]


def _finding(book: Book) -> str:
    said = f"{book.stillness.state.capitalize()}: {book.stillness.reason}."
    if book.quiet_days and not book.stillness.finished:
        expected, low, high = book.quiet_days
        band = f"{date_words(low)} to {date_words(high)}" if high else f"from {date_words(low)} on"
        said += f" Quiet about {date_words(expected)} ({band})."
    return said
