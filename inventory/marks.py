"""What is written on a new lot, so that the jar in the hand and the row on the screen are the same?"""

import re
from collections.abc import Iterator
from itertools import count

from inventory.models import Item, Lot

WORD = re.compile(r"[^\W\d_]+")


def letters(name: str) -> str:
    """White sugar is WS, Lemons LE, Campden tablets crushed CTC."""
    words = WORD.findall(name)
    if len(words) > 1:
        return "".join(word[0] for word in words[:3]).upper()
    return words[0][:2].upper() if words else "LOT"


def free_marks(item: Item) -> Iterator[str]:
    """Marks that no lot bears, to try one after the other: another writer may take one meanwhile."""
    start = letters(item.name)
    taken = set(
        Lot.objects.filter(mark__startswith=f"{start}-").order_by().values_list("mark", flat=True)
    )
    for number in count(len(taken) + 1):
        if (mark := f"{start}-{number:04d}") not in taken:
            yield mark
