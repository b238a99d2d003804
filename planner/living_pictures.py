"""Which pictures stand on the living page? One of each sort, between them with every look."""

import datetime as dt

from inventory.models import Item
from inventory.pictures import (
    Band,
    Bar,
    Fact,
    Key,
    Limit,
    Line,
    Picture,
    Plot,
    Point,
    Row,
    date_words,
    day_axis,
    draw_rows,
    lines_behind,
    value_axis,
)
from inventory.shortfalls import Day
from inventory.stock_picture import stock_picture
from planner.vessel_count import Use, vessel_count_picture

ROW_KEYS = (
    Key("box", "wash", "not yet"),
    Key("box", "solid", "open"),
    Key("box", "hatched", "going over"),
    Key("box", "hollow", "over"),
    Key("box", "clash", "wanted twice"),
    Key("stroke", "reach", "opens in these days"),
    Key("dot", "best", "best day"),
    Key("dot", "pick", "own pick"),
)
CURVE_KEYS = (
    Key("stroke", "line", "expected"),
    Key("box", "band", "four times in five"),
    Key("dot", "measured", "measured"),
    Key("stroke", "limit", "not below this"),
)
# Made up for the look of a curve that falls to its end; no batch is behind it.
GRAVITY = ((0, 80), (4, 52), (8, 30), (14, 12), (21, 4), (30, 1))


def sample_pictures(today: dt.date) -> list[Picture]:
    return [rows_picture(today), shelf_picture(today), count_picture(today), curve_picture(today)]


def rows_picture(today: dt.date) -> Picture:
    def day(number: int) -> dt.date:
        return today + dt.timedelta(days=number)

    looks = (
        ("Gorse", "over", "hollow", -55, -20),
        ("Rhubarb", "going over, to the week's end", "hatched", -30, 5),
        ("Meadowsweet", "open, 16 days left", "solid", -4, 16),
        ("Bramble from the lane behind Beck Bottom", "not yet", "wash", 50, 90),
    )
    rows = [Row(name, note, bars=[Bar(day(a), day(b), look)]) for name, note, look, a, b in looks]
    reach, best, pick = (day(40), day(60)), Point(day(70), "best"), Point(day(-2), "pick")
    rows[2] = Row(*looks[2][:2], bars=rows[2].bars, points=[pick])
    rows[3] = Row(*looks[3][:2], bars=rows[3].bars, reaches=[reach], points=[best])
    clash = Bar(day(30), day(36), "clash", title="wanted twice")
    bars = [Bar(day(10), day(36), "wash", "Damson"), Bar(day(30), day(60), "wash", "Bramble")]
    rows.append(Row("Large bucket", "clash", urgent=True, bars=bars, over=[clash]))
    first, last = day(-60), day(120)
    return Picture(
        title=f"Rows over days, {date_words(first)} to {date_words(last)}",
        finding=f"Meadowsweet is open until {date_words(day(15))}.",
        drawing=draw_rows(rows, axis=day_axis(first, last), now=today),
        head=("Row", "From", "Until"),
        facts=tuple(
            Fact((name, date_words(day(a)), date_words(day(b)))) for name, _, _, a, b in looks
        ),
        keys=ROW_KEYS,
    )


def shelf_picture(today: dt.date) -> Picture:
    """Sugar that keeps a reserve and is short once."""
    sugar = Item(name="White sugar", base="mg", pack=1_000_000, safety_stock=500_000)
    amounts = (
        (0, 0, 3_000_000, 0),
        (12, 2_000_000, 1_000_000, 0),
        (40, 2_600_000, 500_000, 2_100_000),
    )
    days = [
        Day(today + dt.timedelta(days=after), needed, 0, short, 0, on_hand, short)
        for after, needed, on_hand, short in amounts
    ]
    return stock_picture(item=sugar, days=days, today=today)


def count_picture(today: dt.date) -> Picture:
    """Six jars of which eight are wanted."""
    spans = (("Gorse", 0, 90, 2), ("Rhubarb", 60, 150, 4), ("Damson", 70, 200, 2))
    uses = [
        Use(name, today + dt.timedelta(days=a), today + dt.timedelta(days=b), count)
        for name, a, b, count in spans
    ]
    return vessel_count_picture(owned=6, uses=uses, words="jars", on=today)


def curve_picture(today: dt.date) -> Picture:
    def day(number: int) -> dt.date:
        return today + dt.timedelta(days=number)

    expected = [(day(after), points) for after, points in GRAVITY]
    lower = [(when, points * 0.8) for when, points in expected]
    upper = [(when, points * 1.1) for when, points in expected]
    plot = Plot(
        across=day_axis(day(0), day(30)),
        up=value_axis(0, 90, _points, name="points"),
        lines=[Line("expected", expected)],
        bands=[Band("four times in five", lower, upper)],
        limits=[Limit("not below this", 6)],
        measured=[(Point(day(3), "measured"), 60.0), (Point(day(9), "measured"), 27.0)],
    )
    head, cells_behind = lines_behind(plot, across=("Day", date_words), up=_points)
    return Picture(
        title="A curve with its band, readings and a limit",
        finding="Made up, to show what a curve looks like.",
        drawing=plot.drawing(),
        head=head,
        facts=tuple(Fact(cells) for cells in cells_behind),
        keys=CURVE_KEYS,
    )


def _points(value: float) -> str:
    return f"{value:.0f}"
