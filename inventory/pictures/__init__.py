"""Pictures from numbers: rows of bars, steps, curves and limits, as shapes for the page to draw.

Nothing here knows Django, the house or its words; who asks gives days, numbers and what to write.
"""

from inventory.pictures.drawing import (
    Box,
    Dot,
    Drawing,
    Fact,
    Key,
    Path,
    Picture,
    Stroke,
    Words,
    coordinate,
)
from inventory.pictures.plot import Band, Column, Limit, Line, Plot, lines_behind
from inventory.pictures.rows import Bar, Point, Row, draw_rows
from inventory.pictures.scale import (
    Axis,
    Scale,
    Tick,
    date_words,
    day_axis,
    day_words,
    days_words,
    value_axis,
)

__all__ = [
    "Axis",
    "Band",
    "Bar",
    "Box",
    "Column",
    "Dot",
    "Drawing",
    "Fact",
    "Key",
    "Limit",
    "Line",
    "Path",
    "Picture",
    "Plot",
    "Point",
    "Row",
    "Scale",
    "Stroke",
    "Tick",
    "Words",
    "coordinate",
    "date_words",
    "day_axis",
    "day_words",
    "days_words",
    "draw_rows",
    "lines_behind",
    "value_axis",
]
