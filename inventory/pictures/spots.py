"""On which end of a level line, and on which side of it, do its words cross least of what is drawn?"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from itertools import pairwise

# Between two corners of a line so many places are looked at; words are at most so close, in pixels.
PLACES = 8
NEAREST, FURTHEST = 2, 18
ABOVE, BELOW = -6, 15
LETTER_HEIGHT = 9

Corner = tuple[float, float]


@dataclass(frozen=True)
class Spot:
    """At the left or right end, so many pixels below the line (above it if negative)."""

    right: bool
    down: int

    def crosses(self, place: Corner, y: float, width: float) -> bool:
        x, found = place
        within = x > 100 - width if self.right else x < width
        away = found - y if self.down == BELOW else y - found
        return within and NEAREST <= away <= FURTHEST

    def taken(self, y: float, width: float) -> list[Corner]:
        """Places all over the words, so that no others go there."""
        left = 100 - width if self.right else 0
        middle = y + self.down - LETTER_HEIGHT / 2
        return [(left + width * index / PLACES, middle) for index in range(PLACES + 1)]


SPOTS = (Spot(True, ABOVE), Spot(False, ABOVE), Spot(True, BELOW), Spot(False, BELOW))


def along_lines(lines: Iterable[Sequence[Corner]]) -> list[Corner]:
    """Places all along lines that are given by their corners, in percent across and pixels down."""
    found = []
    for corners in lines:
        for (x1, y1), (x2, y2) in pairwise(corners):
            shares = [index / PLACES for index in range(PLACES + 1)]
            found += [(x1 + (x2 - x1) * share, y1 + (y2 - y1) * share) for share in shares]
    return found


def best_spot(places: Sequence[Corner], *, y: float, width: float, top: float) -> Spot:
    """For words of a width in percent on a line at y; none goes above the top."""
    free = [spot for spot in SPOTS if spot.down == BELOW or y - FURTHEST >= top]
    return min(free, key=lambda spot: sum(spot.crosses(place, y, width) for place in places))
