"""May this step of a batch be done? Gathers the facts of the batch for its gates."""

from collections.abc import Iterable

from django.utils.text import capfirst

from planner import gates, progress, steadying, sweetened
from planner.book import Book
from planner.kinetics import EQUAL_WITHIN
from planner.models import Batch, Step
from planner.must_design import NO_FERMENT, wishes_of

State = Batch.State
UL_PER_L = 1_000_000


def of_step(step: Step, *, kinds: Iterable[str], book: Book) -> gates.Verdict | None:
    """The verdict on an open step that fills glass; none where no gate stands before it.

    Four queries beside the book where there is a gate.
    """
    batch = book.batch
    if not step.is_open or progress.brings_to(step.title, kinds) != State.IN_GLASS:
        return None
    if batch.recipe_version.recipe.product in NO_FERMENT:
        return None
    facts = {
        "stillness": book.stillness.state,
        "finished": book.stillness.finished if book.finish.is_known else None,
        "is_steadied": steadying.is_steadied(batch),
    }
    sugar = sweetened.since_read(step, book)
    if wishes_of(batch.recipe_version).closing != "fizz":
        found = gates.bottle_still(**facts)
        added = sugar.all_grams
    else:
        counted = _is_left_counted(book) or sugar.is_primed
        found = gates.bottle_with_fizz(**facts, is_fined_bare=False, left_counted=counted)
        added = sugar.beside_priming
    sweet = gates.sweet_and_live(
        sugar_g_per_l=None if added is None else added / (batch.volume / UL_PER_L),
        yeast_alive=not facts["is_steadied"],
        closed=True,
    )
    return gates.both("bottle", found, sweet)


def _is_left_counted(book: Book) -> bool:
    """Nothing is left to count where it stands at its finish."""
    if book.now is None or book.finish.high is None:
        return False
    return book.now.figure.value <= book.finish.high + EQUAL_WITHIN


def words_of(verdict: gates.Verdict) -> str:
    """All reasons with what would open them, as sentences."""
    said = []
    for reason in verdict.reasons:
        ways = f" ({'; or '.join(reason.ways_out)})" if reason.ways_out else ""
        said.append(f"{capfirst(reason.words)}{ways}.")
    return " ".join(said)
