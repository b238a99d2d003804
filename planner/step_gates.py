"""May this step of a batch be done? Gathers the facts of the batch for its gates."""

from collections.abc import Iterable

from planner import gates, progress
from planner.book import Book
from planner.models import Batch, Step
from planner.must_design import NO_FERMENT, wishes_of

State = Batch.State


def of_step(step: Step, *, kinds: Iterable[str], book: Book) -> gates.Verdict | None:
    """The verdict on an open step that fills glass; none where no gate stands before it."""
    batch = book.batch
    if not step.is_open or progress.brings_to(step.title, kinds) != State.IN_GLASS:
        return None
    if batch.recipe_version.recipe.product in NO_FERMENT:
        return None
    facts = {
        "stillness": book.stillness.state,
        "finished": book.stillness.finished,
        "is_steadied": progress.is_steadied(batch.state),
    }
    if wishes_of(batch.recipe_version).closing != "fizz":
        return gates.bottle_still(**facts)
    return gates.bottle_with_fizz(**facts, is_fined_bare=False, left_counted=book.now is not None)


def words_of(verdict: gates.Verdict) -> str:
    """All reasons with what would open them, as sentences."""
    said = []
    for reason in verdict.reasons:
        ways = f" ({'; or '.join(reason.ways_out)})" if reason.ways_out else ""
        said.append(f"{reason.words[:1].upper()}{reason.words[1:]}{ways}.")
    return " ".join(said)
