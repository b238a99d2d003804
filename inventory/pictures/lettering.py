"""Which words have room, and on which side of their point do they stand?"""

from itertools import pairwise

from inventory.pictures.drawing import Words, coordinate
from inventory.pictures.scale import Axis

# Pixels. Width of a letter of 12, with some to spare, as measured in the system's sans faces.
LETTER = 6.6
BESIDE = 8
SECOND_LINE = 13
# Percent from an edge within which words lean away from it; the name of a tick only at the very end.
EDGE, VERY_END = 12, 99
# Names of the widths of a picture from which on words are shown, narrowest first: any width, and
# from 22, 40 and 60 rem.
SEEN = ("", "from-22", "from-40", "from-60")
# Pixels in one percent of the field at those widths, with row labels above (from 40 rem on: beside
# it, 14 rem) and with the values of an axis beside it (3.5 rem); the narrowest phone has 288.
PIXELS = {"labels": (2.88, 3.52, 4.16, 7.36), "values": (2.32, 2.96, 5.84, 9.04)}


def anchor(at: float) -> str:
    return "start" if at < EDGE else "end" if at > 100 - EDGE else "middle"


def fit(side: str, percent: float, text: str) -> str | None:
    """From which width of the picture on the text has room there; None if it never has."""
    needed = len(text) * LETTER + BESIDE
    wide_enough = zip(SEEN, PIXELS[side], strict=True)
    return next((seen for seen, pixels in wide_enough if percent * pixels >= needed), None)


def sooner(one: str | None, other: str | None) -> bool:
    """Whether one is shown from a narrower width on than the other."""
    order = (*SEEN, None)
    return order.index(one) < order.index(other)


def percent_of(side: str, text: str) -> float:
    """How much of the width a text takes on a phone."""
    return len(text) * LETTER / PIXELS[side][1]


def now_words(at: float, text: str) -> Words:
    return Words("now", text, coordinate(at), "11", anchor=anchor(at))


def along(axis: Axis, side: str, y: float) -> list[Words]:
    """What is written along an axis, with its second line; where it is narrow every other one."""
    named = [tick for tick in axis.ticks if tick.words]
    apart = [later.words_at - sooner.words_at for sooner, later in pairwise(named)]
    longest = max((tick.words for tick in named), key=len, default="")
    seen = fit(side, min(apart, default=100), longest)
    found = []
    for index, tick in enumerate(named):
        is_other = index % 2 == 1
        leans = "end" if tick.words_at > VERY_END else "middle"
        place = {"x": coordinate(tick.words_at), "anchor": leans}
        if not is_other or seen is not None:
            look = f"tick {seen}".strip() if is_other else "tick"
            found.append(Words(look, tick.words, y=coordinate(y), **place))
        if tick.below:
            found.append(Words("tick", tick.below, y=coordinate(y + SECOND_LINE), **place))
    return found
