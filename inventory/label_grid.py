"""Where on a sheet does each label lie? Pure; every measure in millimetres."""

from collections.abc import Iterator
from dataclasses import dataclass

PAGES = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
# Nothing is printed so near to the edge of a label: sheets are fed a little askew.
PADDING = 2.5


@dataclass(frozen=True, slots=True)
class Grid:
    """A sheet of equal labels by its measures: left and top margin, and the gaps between labels."""

    page: str
    across: int
    down: int
    width: float
    height: float
    left: float
    top: float
    gap_x: float = 0.0
    gap_y: float = 0.0

    def __post_init__(self) -> None:
        page_width, page_height = PAGES[self.page]
        right = self.left + self.across * self.width + (self.across - 1) * self.gap_x
        foot = self.top + self.down * self.height + (self.down - 1) * self.gap_y
        if right > page_width + 0.05 or foot > page_height + 0.05 or min(self.left, self.top) < 0:
            raise ValueError(f"{self.across} by {self.down} labels do not lie on {self.page}")

    @property
    def count(self) -> int:
        return self.across * self.down

    @property
    def words(self) -> str:
        return (
            f"{self.page}, {self.across} by {self.down}, each {self.width:g} by {self.height:g} mm"
        )

    def places(self, *, first: int, count: int) -> Iterator[tuple[int, float, float]]:
        """For each label its sheet, and the left and upper edge; `first` is the first free one, from 1.

        Raises ValueError for a first place that no sheet has.
        """
        if not 1 <= first <= self.count:
            raise ValueError(f"a sheet has the places 1 to {self.count}")
        for number in range(first - 1, first - 1 + count):
            sheet, place = divmod(number, self.count)
            row, column = divmod(place, self.across)
            yield (
                sheet,
                self.left + column * (self.width + self.gap_x),
                self.top + row * (self.height + self.gap_y),
            )


# Usual measures of sheets in shops; from memory, so measure yours before you print on it.
GRIDS = {
    "a4-2-4": Grid("A4", 2, 4, 99.1, 67.7, 4.65, 13.1, gap_x=2.5),
    "a4-2-7": Grid("A4", 2, 7, 99.1, 38.1, 4.65, 15.15, gap_x=2.5),
    "a4-3-7": Grid("A4", 3, 7, 63.5, 38.1, 7.25, 15.15, gap_x=2.5),
    "a4-3-8": Grid("A4", 3, 8, 70.0, 37.0, 0.0, 0.5),
    "letter-2-5": Grid("Letter", 2, 5, 101.6, 50.8, 4.1, 12.7, gap_x=4.5),
    "letter-3-10": Grid("Letter", 3, 10, 66.7, 25.4, 4.75, 12.7, gap_x=3.15),
}
