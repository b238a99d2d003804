"""Rows of bars over days or amounts: when a plant is open, when a vessel is in use, how many there are."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass, field
from itertools import zip_longest
from textwrap import wrap

from inventory.pictures.drawing import Box, Dot, Drawing, Stroke, Words, coordinate
from inventory.pictures.lettering import along, fit, now_words, sooner
from inventory.pictures.scale import Axis, Scale, Value, number

# Pixels. Letters are 12 high; a name of so many fits a phone together with the note beside it.
LETTERS_IN_LABEL = 31
LINE = 15
BAR = 14
BETWEEN_LANES = 2
UNDER_BAR = 4
UNDER_ROW = 11
HEAD_LINE = 16
# So many rows need the months at the foot as well: the head is out of sight.
FOOT_FROM_ROWS = 8


@dataclass(frozen=True)
class Bar:
    """A stretch of a row; `until` is where it ends: for days the day after the last."""

    start: Value
    until: Value
    look: str
    words: str = ""
    title: str = ""


@dataclass(frozen=True)
class Point:
    at: Value
    look: str
    title: str = ""


@dataclass(frozen=True)
class Row:
    """One thing with its bars, which are stacked where they overlap.

    `reaches` are where a bar may begin instead, `over` lies across all bars of the row; an urgent
    note asks for something.
    """

    label: str
    note: str = ""
    urgent: bool = False
    bars: Sequence[Bar] = ()
    reaches: Sequence[tuple[Value, Value]] = ()
    points: Sequence[Point] = ()
    over: Sequence[Bar] = ()


@dataclass
class _Canvas:
    """Where the next row is drawn, and what has been drawn so far."""

    scale: Scale
    y: float
    boxes: list[Box] = field(default_factory=list)
    strokes: list[Stroke] = field(default_factory=list)
    dots: list[Dot] = field(default_factory=list)
    words: list[Words] = field(default_factory=list)

    def x(self, value: Value) -> str:
        return coordinate(self.scale.at(value))

    def box(self, bar: Bar, y: float, height: float) -> None:
        begins, ends = self.scale.at(bar.start), self.scale.at(bar.until)
        place = coordinate(begins), coordinate(ends - begins), coordinate(y), coordinate(height)
        look = f"{bar.look}{' came' * self.came(bar)}{' goes' * self.goes(bar)}"
        self.boxes.append(Box(look, *place, bar.title))

    def came(self, bar: Bar) -> bool:
        """Whether it began before what is in sight."""
        return number(bar.start) < self.scale.low

    def goes(self, bar: Bar) -> bool:
        return number(bar.until) > self.scale.high

    def lane(self, bars: Sequence[Bar], y: float) -> None:
        """Bars side by side; words stand in theirs, or after it where there is room sooner."""
        for bar, then in zip_longest(bars, bars[1:]):
            self.box(bar, y, BAR)
            begins, ends = self.scale.at(bar.start), self.scale.at(bar.until)
            room = self.scale.at(then.start) - ends if then else 100 - ends
            inside, after = (fit("labels", width, bar.words) for width in (ends - begins, room))
            beside = sooner(after, inside)
            seen, x = (after, ends) if beside else (inside, begins)
            if bar.words and seen is not None:
                look = f"{'beside' if beside else f'on-{bar.look}'} {seen}".strip()
                words = Words(look, bar.words, coordinate(x), coordinate(y + 11), "4")
                self.words.append(words)

    def row(self, row: Row) -> None:
        lines = wrap(row.label, LETTERS_IN_LABEL) or [""]
        alone = "" if row.note else " alone"
        for index, line in enumerate(lines):
            y = coordinate(self.y + 12 + LINE * index)
            self.words.append(Words(f"label{alone}", line, "0", y))
        if row.note:
            look = "note urgent" if row.urgent else "note"
            self.words.append(Words(look, row.note, "100", y, anchor="end"))
        top = self.y + 2 + LINE * len(lines)
        lanes = _lanes(self.seen(row.bars))
        for lane, bars in enumerate(lanes):
            self.lane(bars, top + lane * (BAR + BETWEEN_LANES))
        height = max(len(lanes), 1) * (BAR + BETWEEN_LANES) - BETWEEN_LANES
        self.details(row, top, height)
        self.y = top + height + UNDER_ROW

    def details(self, row: Row, top: float, height: float) -> None:
        for bar in self.seen(row.over):
            self.box(bar, top - 2, height + 4)
        middle, under = coordinate(top + BAR / 2), coordinate(top + height + UNDER_BAR)
        for start, until in row.reaches:
            if self.scale.at(start) < self.scale.at(until):
                self.strokes.append(Stroke("reach", self.x(start), self.x(until), under, under))
        self.dots += [
            Dot(point.look, self.x(point.at), middle, point.title)
            for point in row.points
            if self.scale.holds(point.at)
        ]

    def seen(self, bars: Iterable[Bar]) -> list[Bar]:
        return [bar for bar in bars if self.scale.at(bar.start) < self.scale.at(bar.until)]


def _lanes(bars: Iterable[Bar]) -> list[list[Bar]]:
    """Bars that overlap go below one another, each as high up as it can."""
    lanes: list[list[Bar]] = []
    for bar in sorted(bars, key=lambda bar: bar.start):
        free = next((lane for lane in lanes if lane[-1].until <= bar.start), None)
        if free is None:
            lanes.append(free := [])
        free.append(bar)
    return lanes


def draw_rows(
    rows: Sequence[Row], *, axis: Axis, now: Value | None = None, now_text: str = "today"
) -> Drawing:
    """Rows from the top down over one axis, with a line for now if that is in sight."""
    in_sight = now is not None and axis.scale.holds(now)
    head = HEAD_LINE * (1 + in_sight + axis.has_second_line)
    canvas = _Canvas(axis.scale, head + 6)
    for row in rows:
        canvas.row(row)
    bottom = canvas.y
    words = along(axis, "labels", HEAD_LINE * (1 + in_sight) - 4)
    if len(rows) >= FOOT_FROM_ROWS:
        words += along(axis, "labels", bottom + 12)
        canvas.y += HEAD_LINE * (1 + axis.has_second_line)
    field_y, end = coordinate(head), coordinate(bottom)
    grid = [Stroke("grid", coordinate(t.at), coordinate(t.at), field_y, end) for t in axis.ticks]
    if in_sight:
        x = canvas.x(now)
        grid.append(Stroke("now", x, x, "14", end))
        words.append(now_words(axis.scale.at(now), now_text))
    return Drawing(
        side="labels",
        height=coordinate(canvas.y),
        field_y=field_y,
        field_height=coordinate(bottom - head),
        grid=tuple(grid),
        boxes=tuple(canvas.boxes),
        strokes=tuple(canvas.strokes),
        dots=tuple(canvas.dots),
        words=(*words, *canvas.words),
    )
