"""The year as ribbons: when each plant is open, how sure that is, and where today stands."""

from collections.abc import Callable, Iterable, Mapping
from dataclasses import dataclass
from datetime import date, timedelta

from inventory.models import Household
from inventory.pictures import (
    Bar,
    Fact,
    Key,
    Picture,
    Point,
    Row,
    date_words,
    day_axis,
    day_words,
    days_words,
    draw_rows,
)
from planner import harvest, observations
from planner.harvest import PlantWindow
from planner.models import Plant
from planner.phenology import WindowState

ONE_DAY = timedelta(days=1)
LOOKS = {
    WindowState.NOT_YET: "wash",
    WindowState.SHOWING: "wash",
    WindowState.OPEN: "solid",
    WindowState.GOING_OVER: "hatched",
    WindowState.OVER: "hollow",
}
# Of several windows of one plant, that of the earliest state here is spoken of.
SPOKEN_OF = (
    WindowState.OPEN,
    WindowState.GOING_OVER,
    WindowState.SHOWING,
    WindowState.NOT_YET,
    WindowState.OVER,
)
KEYS = (
    Key("box", "wash", "not yet, or showing"),
    Key("box", "solid", "open"),
    Key("box", "hatched", "going over"),
    Key("box", "hollow", "over"),
    Key("stroke", "reach", "opens in these days, four years in five"),
    Key("dot", "best", "best day"),
)
PICK_KEY = Key("dot", "pick", "picked or seen open here")
HEAD = ("Plant", "State", "First day", "Best day", "Last day", "Opening")
MOST_NAMED = 6

Picks = Mapping[int, Iterable[date]]


@dataclass(frozen=True)
class Ribbon:
    """One plant with its windows in sight and the house's own picks of it."""

    plant: Plant
    windows: tuple[PlantWindow, ...]
    picks: tuple[date, ...]

    @property
    def spoken_of(self) -> PlantWindow:
        return min(self.windows, key=lambda w: (SPOKEN_OF.index(w.state), w.first))

    def picks_by(self, window: PlantWindow) -> list[date]:
        """The picks that lie nearer to this window than to any other in sight."""
        return [day for day in self.picks if min(self.windows, key=_away_from(day)) == window]


def season_picture(
    *,
    house: Household,
    on: date,
    start: date | None = None,
    plants: Iterable[Plant] | None = None,
    held: harvest.Known | None = None,
    picks: Picks | None = None,
) -> Picture:
    """A year from `start`, else the calendar year of the day; no query if plants and `held` are given.

    `picks` are the days of the house's own picks by the key of the plant.
    """
    first = start or date(on.year, 1, 1)
    last = _year_later(first)
    ribbons = _ribbons(
        harvest.windows_between(
            house=house, start=first, end=last, on=on, plants=plants, held=held
        ),
        picks or {},
    )
    has_picks = any(ribbon.picks for ribbon in ribbons)
    return Picture(
        title=f"When each plant is open, {date_words(first)} to {date_words(last)}",
        finding=_finding(ribbons),
        drawing=draw_rows(
            [_row(ribbon) for ribbon in ribbons],
            axis=day_axis(first, last),
            now=on,
            now_text=f"today, {day_words(on)}",
        ),
        head=HEAD + ("Own picks",) * has_picks,
        facts=tuple(_fact(r, window, has_picks) for r in ribbons for window in r.windows),
        keys=(*KEYS, PICK_KEY) if has_picks else KEYS,
    )


def picks_of(held: harvest.Known, plants: Iterable[Plant]) -> dict[int, list[date]]:
    """The days on which each plant was seen open or picked here; asks the database nothing."""
    return {
        plant.pk: [found.day for found in observations.open_days(plant, held.seen)]
        for plant in plants
    }


def _away_from(day: date) -> Callable[[PlantWindow], timedelta]:
    return lambda w: max(w.first - day, day - w.last, timedelta(0))


def _year_later(first: date) -> date:
    """The last day of the year that begins on that day; 29 February counts as the day before it."""
    day = 28 if (first.month, first.day) == (2, 29) else first.day
    return date(first.year + 1, first.month, day) - ONE_DAY


def _ribbons(found: Iterable[PlantWindow], picks: Picks) -> list[Ribbon]:
    """In the order in which they open."""
    by_plant: dict[int, list[PlantWindow]] = {}
    for window in found:
        by_plant.setdefault(window.plant.pk, []).append(window)
    ribbons = [
        Ribbon(windows[0].plant, tuple(windows), tuple(sorted(picks.get(key, ()))))
        for key, windows in by_plant.items()
    ]
    return sorted(ribbons, key=lambda ribbon: ribbon.spoken_of.first)


def _row(ribbon: Ribbon) -> Row:
    best = [Point(w.peak, "best") for w in ribbon.windows]
    picked = [Point(day, "pick", f"picked or seen open {date_words(day)}") for day in ribbon.picks]
    return Row(
        label=ribbon.plant.common_name,
        note=_note(ribbon.spoken_of),
        bars=[Bar(w.first, w.last + ONE_DAY, LOOKS[w.state]) for w in ribbon.windows],
        reaches=[(w.earliest, w.latest) for w in ribbon.windows if w.earliest < w.latest],
        points=best + picked,
    )


def _note(window: PlantWindow) -> str:
    return {
        WindowState.OPEN: f"open to {day_words(window.last)}",
        WindowState.GOING_OVER: f"going over, to {day_words(window.last)}",
        WindowState.SHOWING: f"showing, from {day_words(window.first)}",
        WindowState.NOT_YET: days_words(window.first, window.last),
        WindowState.OVER: f"over since {day_words(window.last)}",
    }[window.state]


def _fact(ribbon: Ribbon, window: PlantWindow, has_picks: bool) -> Fact:
    picks = ", ".join(map(date_words, ribbon.picks_by(window)))
    cells = (
        ribbon.plant.common_name,
        str(window.state),
        date_words(window.first),
        date_words(window.peak),
        date_words(window.last),
        days_words(window.earliest, window.latest),
    )
    return Fact(cells + (picks,) * has_picks, ribbon.plant.get_absolute_url())


def _finding(ribbons: list[Ribbon]) -> str:
    spoken_of = [ribbon.spoken_of for ribbon in ribbons]
    by_state = {state: [w for w in spoken_of if w.state is state] for state in WindowState}
    said = [
        f"{words}: {_names(by_state[state])}."
        for state, words in (
            (WindowState.GOING_OVER, "Going over"),
            (WindowState.OPEN, "Open"),
            (WindowState.SHOWING, "Showing"),
        )
        if by_state[state]
    ]
    coming = by_state[WindowState.NOT_YET]
    if coming:
        after = min(coming, key=lambda w: w.first)
        said.append(f"Next: {after.plant.common_name}, from about {day_words(after.first)}.")
    if not ribbons:
        return "No plant has a window in this time."
    return " ".join(said) or "Nothing is open, and nothing opens any more in this time."


def _names(windows: list[PlantWindow]) -> str:
    """The first to be over come first; beyond a few the rest are counted."""
    names = [w.plant.common_name for w in sorted(windows, key=lambda w: w.last)]
    rest = len(names) - MOST_NAMED
    return ", ".join(names[:MOST_NAMED]) + (f" and {rest} more" if rest > 0 else "")
