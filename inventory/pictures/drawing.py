"""What is a picture made of? Shapes, percent across and pixels down, as text ready for the page.

Every number is turned into text here, so that no setting of language can put a comma into it.
"""

from dataclasses import dataclass
from math import isfinite

# Looks whose fill is a pattern, so that they can be told apart without any colour.
HATCHES = {"hatched": "leaf", "short": "hip", "clash": "hip", "beyond": "hip"}


def coordinate(value: float) -> str:
    """At most two decimals, always with a full stop; 0.01 % of a wide screen is a tenth of a pixel."""
    if not isfinite(value):
        raise ValueError(f"A picture has no place for {value}.")
    text = f"{value:.2f}".rstrip("0").rstrip(".")
    return "0" if text == "-0" else text


@dataclass(frozen=True, slots=True)
class Box:
    look: str
    x: str
    width: str
    y: str
    height: str
    title: str = ""

    @property
    def hatch(self) -> str:
        return HATCHES.get(self.look.split()[0], "")


@dataclass(frozen=True, slots=True)
class Stroke:
    look: str
    x1: str
    x2: str
    y1: str
    y2: str


@dataclass(frozen=True, slots=True)
class Path:
    """A curve in percent both ways, stretched over the field of the drawing."""

    look: str
    d: str


@dataclass(frozen=True, slots=True)
class Dot:
    look: str
    x: str
    y: str
    title: str = ""


@dataclass(frozen=True, slots=True)
class Words:
    """Text at x percent and dx pixels; anchor is start, middle or end."""

    look: str
    text: str
    x: str
    y: str
    dx: str = "0"
    anchor: str = "start"


@dataclass(frozen=True, slots=True)
class Drawing:
    """Shapes in the order in which they are painted; side says what hangs at the left edge.

    `labels` are names of rows, which a narrow page puts above them; `values` are those of an axis.
    """

    side: str
    height: str
    field_y: str
    field_height: str
    grid: tuple[Stroke, ...] = ()
    boxes: tuple[Box, ...] = ()
    paths: tuple[Path, ...] = ()
    strokes: tuple[Stroke, ...] = ()
    dots: tuple[Dot, ...] = ()
    words: tuple[Words, ...] = ()


@dataclass(frozen=True, slots=True)
class Key:
    """What one look means; shape is box, stroke or dot."""

    shape: str
    look: str
    words: str

    @property
    def hatch(self) -> str:
        return HATCHES.get(self.look, "")


@dataclass(frozen=True, slots=True)
class Fact:
    """One line of the table behind a picture; its first cell leads to an address if there is one."""

    cells: tuple[str, ...]
    address: str = ""


@dataclass(frozen=True, slots=True)
class Picture:
    """A drawing with its title, what it shows in words, its key, and the same facts as a table."""

    title: str
    finding: str
    drawing: Drawing
    head: tuple[str, ...]
    facts: tuple[Fact, ...]
    keys: tuple[Key, ...] = ()

    def __post_init__(self):
        if any(len(fact.cells) != len(self.head) for fact in self.facts):
            raise ValueError(f"Every line of the table has {len(self.head)} cells.")

    @property
    def hatches(self) -> list[str]:
        """The patterns in use, each once."""
        return sorted({shape.hatch for shape in (*self.drawing.boxes, *self.keys) if shape.hatch})

    @property
    def lines(self) -> list[tuple[str, list[tuple[str, str]]]]:
        """Every line of the table: its address, and its cells with the words above them."""
        pairs = ((fact.address, zip(self.head, fact.cells, strict=True)) for fact in self.facts)
        return [(address, list(cells)) for address, cells in pairs]
