"""Values over days or another value: stock in steps, a curve with its band, a limit not to be passed."""

from collections.abc import Callable, Sequence
from dataclasses import dataclass

from inventory.pictures import curves
from inventory.pictures.curves import Points
from inventory.pictures.drawing import Box, Dot, Drawing, Path, Stroke, Words, coordinate
from inventory.pictures.lettering import along, anchor, fit, now_words, percent_of
from inventory.pictures.rows import Point
from inventory.pictures.scale import Axis, Value, number
from inventory.pictures.spots import along_lines, best_spot

# Pixels: room above for the word of today, the height of the field, what is written below it.
HEAD = 22
FIELD = 200
FOOT, FOOT_LINE = 22, 15
# A column stands on one day; in percent, so that it can still be seen on a phone.
COLUMN = 2.4


@dataclass(frozen=True)
class Line:
    """Points joined by straight lines, or in steps: each value holds until the next."""

    words: str
    points: Points
    look: str = "line"
    steps: bool = False


@dataclass(frozen=True)
class Band:
    """From the lower points to the upper ones, which stand at the same places."""

    words: str
    lower: Points
    upper: Points


@dataclass(frozen=True)
class Limit:
    """A value with its words on the line; `beyond` hatches what lies above it."""

    words: str
    value: float
    look: str = "limit"
    beyond: bool = False


@dataclass(frozen=True)
class Column:
    """An amount that is short on one day, drawn below the zero line with its words under it."""

    at: Value
    amount: float
    words: str
    title: str = ""


@dataclass(frozen=True, kw_only=True)
class Plot:
    """Lines and columns that must lie on the axis `up`; steps and columns may go past the sides."""

    across: Axis
    up: Axis
    lines: Sequence[Line] = ()
    bands: Sequence[Band] = ()
    limits: Sequence[Limit] = ()
    measured: Sequence[tuple[Point, float]] = ()
    columns: Sequence[Column] = ()
    now: Value | None = None
    now_text: str = "today"

    def x(self, at: Value) -> float:
        return self.across.scale.at(at)

    def y(self, value: float) -> float:
        """Pixels from the top."""
        low, high = self.up.scale.low, self.up.scale.high
        if not self.up.scale.holds(value):
            raise ValueError(f"{value} does not lie on the axis from {low} to {high}.")
        return HEAD + FIELD * (1 - self.up.scale.at(value) / 100)

    @property
    def columns_seen(self) -> list[Column]:
        return [column for column in self.columns if self.across.scale.holds(column.at)]

    def drawing(self) -> Drawing:
        """Raises ValueError where something would lie outside the axes."""
        foot = FOOT + FOOT_LINE * (self.across.has_second_line + bool(self.across.name))
        return Drawing(
            side="values",
            height=coordinate(HEAD + FIELD + foot),
            field_y=coordinate(HEAD),
            field_height=coordinate(FIELD),
            grid=tuple(_grid(self)),
            boxes=(*_beyond(self), *_columns(self)),
            paths=tuple(_paths(self)),
            strokes=tuple(_level(self, limit.look, limit.value) for limit in self.limits),
            dots=tuple(_dot(self, *measured) for measured in self.measured),
            words=(*_edges(self), *_limit_words(self), *_column_words(self)),
        )


def _level(plot: Plot, look: str, value: float) -> Stroke:
    y = coordinate(plot.y(value))
    return Stroke(look, "0", "100", y, y)


def _upright(look: str, at: float, top: float, bottom: float) -> Stroke:
    x = coordinate(at)
    return Stroke(look, x, x, coordinate(top), coordinate(bottom))


def _grid(plot: Plot) -> list[Stroke]:
    foot = HEAD + FIELD
    named = [tick for tick in plot.up.ticks if tick.words]
    levels = [coordinate(HEAD + FIELD * (1 - tick.at / 100)) for tick in named]
    grid = [Stroke("grid", "0", "100", y, y) for y in levels]
    grid += [_upright("notch", tick.at, foot, foot + 5) for tick in plot.across.ticks]
    grid.append(_level(plot, "axis", min(max(plot.up.scale.low, 0), plot.up.scale.high)))
    if plot.now is not None and plot.across.scale.holds(plot.now):
        grid.append(_upright("now", plot.x(plot.now), HEAD - 8, foot))
    return grid


def _edges(plot: Plot) -> list[Words]:
    foot = HEAD + FIELD + 18
    words = along(plot.across, "values", foot)
    for tick in plot.up.ticks:
        y = coordinate(HEAD + FIELD * (1 - tick.at / 100) + 4)
        words.append(Words("tick", tick.words, "0", y, "-8", "end"))
    if plot.up.name:
        words.append(Words("tick", plot.up.name, "0", "11", "-8", "end"))
    if plot.across.name:
        y = coordinate(foot + FOOT_LINE * (1 + plot.across.has_second_line))
        words.append(Words("tick", plot.across.name, "50", y, anchor="middle"))
    if plot.now is not None and plot.across.scale.holds(plot.now):
        words.append(now_words(plot.x(plot.now), plot.now_text))
    return words


def _beyond(plot: Plot) -> list[Box]:
    top = coordinate(HEAD)
    heights = [plot.y(limit.value) - HEAD for limit in plot.limits if limit.beyond]
    return [Box("beyond", "0", "100", top, coordinate(height)) for height in heights]


def _limit_words(plot: Plot) -> list[Words]:
    """On the line, at the end and on the side where they cross least of the lines and each other."""
    corners = [_corners(plot, line) for line in plot.lines]
    levels = [[(0, plot.y(limit.value)), (100, plot.y(limit.value))] for limit in plot.limits]
    places, found = along_lines(corners + levels), []
    for limit in plot.limits:
        y, width = plot.y(limit.value), percent_of("values", limit.words)
        spot = best_spot(places, y=y, width=width, top=HEAD)
        places += spot.taken(y, width)
        x, dx, leans = ("100", "-4", "end") if spot.right else ("0", "6", "start")
        place = x, coordinate(y + spot.down), dx, leans
        found.append(Words(f"on-{limit.look}", limit.words, *place))
    return found


def _corners(plot: Plot, line: Line) -> list[tuple[float, float]]:
    """The corners of a line; before every step stands the corner of the level that ends there."""
    found: list[tuple[float, float]] = []
    for at, value in line.points:
        x, y = plot.x(at), plot.y(value)
        if line.steps and found:
            found.append((x, found[-1][1]))
        found.append((x, y))
    return [*found, (100, found[-1][1])] if line.steps and found else found


def _columns(plot: Plot) -> list[Box]:
    boxes = []
    for column in plot.columns_seen:
        top = plot.y(0)
        left = min(max(plot.x(column.at) - COLUMN / 2, 0), 100 - COLUMN)
        place = coordinate(left), coordinate(COLUMN), coordinate(top)
        height = coordinate(plot.y(-column.amount) - top)
        boxes.append(Box("short", *place, height, column.title))
    return boxes


def _column_words(plot: Plot) -> list[Words]:
    """Below the columns, where there is room between two of them."""
    found, places = [], [plot.x(column.at) for column in plot.columns_seen]
    for index, column in enumerate(plot.columns_seen):
        at = places[index]
        others = places[:index] + places[index + 1 :]
        room = min((abs(at - other) for other in others), default=100)
        seen = fit("values", room, column.words)
        if seen is not None:
            y = coordinate(plot.y(-column.amount) + 14)
            look = f"on-column {seen}".strip()
            found.append(Words(look, column.words, coordinate(at), y, anchor=anchor(at)))
    return found


def _paths(plot: Plot) -> list[Path]:
    scales = plot.across.scale, plot.up.scale
    bands = [Path("band", curves.band(band.lower, band.upper, *scales)) for band in plot.bands]
    ways = {True: curves.steps, False: curves.line}
    return bands + [Path(line.look, ways[line.steps](line.points, *scales)) for line in plot.lines]


def _dot(plot: Plot, point: Point, value: float) -> Dot:
    if not plot.across.scale.holds(point.at):
        raise ValueError(f"{point.at} lies outside the picture.")
    return Dot(point.look, coordinate(plot.x(point.at)), coordinate(plot.y(value)), point.title)


def lines_behind(
    plot: Plot, *, across: tuple[str, Callable[[Value], str]], up: Callable[[float], str]
) -> tuple[tuple[str, ...], list[tuple[str, ...]]]:
    """Head and lines of the table behind lines and bands: a line for each place, a column for each."""
    columns, places = {}, {}
    for line in plot.lines:
        columns[line.words] = {number(at): up(value) for at, value in line.points}
        places |= {number(at): at for at, _ in line.points}
    for band in plot.bands:
        pairs = zip(band.lower, band.upper, strict=True)
        reach = {number(at): f"{up(low)} to {up(high)}" for (at, low), (_, high) in pairs}
        columns[band.words] = reach
        places |= {number(at): at for at, _ in band.lower}
    if plot.measured:
        columns["measured"] = {number(point.at): up(value) for point, value in plot.measured}
        places |= {number(point.at): point.at for point, _ in plot.measured}
    limits = tuple(up(limit.value) for limit in plot.limits)
    head = (across[0], *columns, *(limit.words for limit in plot.limits))
    cells = [
        (across[1](places[key]), *(column.get(key, "") for column in columns.values()), *limits)
        for key in sorted(places)
    ]
    return head, cells
