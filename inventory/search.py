"""What can be found in the house, by which words, and by whom?

Each app registers its own nouns when it is loaded; here are those of the store.
"""

from collections.abc import Callable
from dataclasses import dataclass

from django.db.models import F, Model, QuerySet, TextField, Value
from django.db.models.functions import Cast, Concat

from inventory import full_text
from inventory.household import ROLES
from inventory.models import Item, Lot

MOST_FOUND = 50
MOST_LETTERS = 100


@dataclass(frozen=True, kw_only=True)
class Source:
    """A noun that can be found: its rows, the columns it is found by, and what is said of a row."""

    noun: str
    rows: Callable[[], QuerySet]
    title: tuple[str, ...]
    words: tuple[str, ...]
    about: Callable[[Model], str]
    fetched: Callable[[QuerySet], QuerySet] = QuerySet.all
    read: str = "guest"


@dataclass(frozen=True)
class Found:
    """A row, what is said of it, and whether the words stand there or only on its page."""

    thing: Model
    about: str
    named: bool


@dataclass(frozen=True)
class Group:
    """The best rows of one noun, and how many more there are."""

    noun: str
    found: list[Found]
    more: int


SOURCES: list[Source] = []


def register(source: Source) -> None:
    SOURCES.append(source)


def find(text: str, *, role: str, sources: list[Source] | None = None) -> list[Group]:
    """The rows this role may read that hold every word, at most 50, the noun of the best first.

    Each noun has its turn, so that a hundred lots never hide the one recipe. The number of queries
    depends on the nouns found, not on the rows.
    """
    words = full_text.beginnings(text[:MOST_LETTERS])
    asked = SOURCES if sources is None else sources
    known = [source for source in asked if ROLES.index(source.read) <= ROLES.index(role)]
    if not words or not known:
        return []
    keys: dict[int, list[int]] = {}
    turns = []
    for place, key in full_text.hits(_documents(known), words):
        group = keys.setdefault(place, [])
        turns.append((len(group), place))
        group.append(key)
    shown = [place for _, place in sorted(turns, key=lambda turn: turn[0])[:MOST_FOUND]]
    return [
        _group(known[place], keys[place], shown.count(place), words)
        for place in keys
        if place in shown
    ]


def _documents(sources: list[Source]) -> QuerySet:
    """One row for each thing: the number of its source, its key, its title, its other words."""
    first, *rest = [
        source.rows()
        .order_by()
        .values_list(Value(place), F("pk"), _joined(source.title), _joined(source.words))
        for place, source in enumerate(sources)
    ]
    return first.union(*rest, all=True) if rest else first


def _joined(columns: tuple[str, ...]) -> Concat:
    text, blank = TextField(), Value(" ", TextField())
    return Concat(*(part for column in columns for part in (Cast(column, text), blank)))


def _group(source: Source, keys: list[int], shown: int, words: list[str]) -> Group:
    things = source.fetched(source.rows()).in_bulk(keys[:shown])
    found = [_found(source, things[key], words) for key in keys[:shown] if key in things]
    return Group(source.noun, found, len(keys) - shown)


def _found(source: Source, thing: Model, words: list[str]) -> Found:
    about = source.about(thing)
    return Found(thing, about, full_text.begin(f"{thing} {about}", words))


def _about_item(item: Item) -> str:
    return item.get_kind_display() + (", archived" if item.archived else "")


def _about_lot(lot: Lot) -> str:
    left = "on the shelf" if lot.on_hand else "nothing left"
    return f"{left}, {lot.place}" if lot.place and lot.on_hand else left


register(
    Source(
        noun="Items",
        rows=Item.objects.all,
        title=("name",),
        words=("kind", "shop", "piece_word", "notes"),
        about=_about_item,
    )
)
register(
    Source(
        noun="Lots",
        rows=Lot.objects.all,
        title=("mark", "item__name"),
        words=("origin", "place__name"),
        about=_about_lot,
        fetched=lambda lots: lots.select_related("item", "place").with_on_hand(),
    )
)
