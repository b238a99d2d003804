"""How far has a batch come once a step of it is done?"""

from collections.abc import Iterable

from inventory.models.items import Kind
from planner.models import Batch

State = Batch.State

FORWARD = (
    State.THOUGHT_OF,
    State.SET_DOWN,
    State.MUST_MADE,
    State.WORKING,
    State.QUIET,
    State.BRIGHT,
    State.STEADIED,
    State.IN_GLASS,
    State.RESTING,
    State.FIT,
)
ENDED = (State.DRUNK_UP, State.POURED_AWAY, State.DROPPED, State.JOINED)
# The first word of a step's title; verbs of the trade, common practice, no source.
FIRST_WORDS = {
    "pitch": State.WORKING,
    "steady": State.STEADIED,
    "stabilise": State.STEADIED,
    "stabilize": State.STEADIED,
    "bottle": State.IN_GLASS,
    "fill": State.IN_GLASS,
    "ready": State.FIT,
    "fit": State.FIT,
}
# What goes in says it more surely than any title.
KINDS = {
    Kind.YEAST: State.WORKING,
    Kind.BOTTLE: State.IN_GLASS,
    Kind.CLOSURE: State.IN_GLASS,
}


def brings_to(title: str, kinds: Iterable[str]) -> State:
    """The state that a step leads to: by what goes in, by its title, else the must is made."""
    told = [KINDS[kind] for kind in kinds if kind in KINDS]
    told += [FIRST_WORDS[word] for word in [first_word(title)] if word in FIRST_WORDS]
    return max(told, key=FORWARD.index, default=State.MUST_MADE)


def first_word(title: str) -> str:
    return (title.split() or [""])[0].strip(".,:;").casefold()


def steadies(title: str) -> bool:
    """Whether a step of this title keeps the yeast from working again."""
    return FIRST_WORDS.get(first_word(title)) == State.STEADIED


def fills_glass(title: str, kinds: Iterable[str]) -> bool:
    """Whether the wine leaves its vessels at this step."""
    return FORWARD.index(brings_to(title, kinds)) >= FORWARD.index(State.IN_GLASS)


def further(state: str, reached: State) -> State:
    """The further of two states; a batch never goes back, and an ended one stays ended."""
    if state in ENDED or FORWARD.index(state) >= FORWARD.index(reached):
        return State(state)
    return reached


def write_state(batch: Batch, state: str) -> None:
    """Store the state if it differs; the caller holds the batch."""
    if batch.state != state:
        batch.state = state
        batch.version += 1
        batch.save(update_fields=["state", "version"])
