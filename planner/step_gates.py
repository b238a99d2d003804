"""May this step of a batch be done? Gathers the facts of the batch for its gates."""

import datetime as dt
from collections.abc import Iterable

from django.utils.text import capfirst

from inventory.refusals import Refusal
from planner import gates, must_gates, progress, steadying, sweetened, volumes
from planner.book import Book
from planner.kinetics import EQUAL_WITHIN
from planner.models import Batch, Step
from planner.must_design import NO_FERMENT, wishes_of
from planner.told import NOTHING, Told

State = Batch.State
NEVER_FERMENTED = gates.Reason(
    gates.STOP,
    "what is not fermented out gets no fizz in the bottle: with yeast all of its sugar would work there",
    ("keep it still", "mix it with sparkling water in the glass"),
)
UL_PER_L = 1_000_000


def of_step(
    step: Step,
    *,
    kinds: Iterable[str],
    book: Book,
    on: dt.date,
    told: Told = NOTHING,
    is_next: bool = True,
) -> list[gates.Verdict]:
    """Every gate before an open step; what comes before the wine only if it `is_next`.

    `book` is the book of its batch, which is the step's own object.
    """
    if not step.is_open:
        return []
    found = must_gates.of_step(step, kinds=kinds, on=on, told=told) if is_next else []
    if is_next and step.template and step.template.when_still:
        found.append(_when_still(book))
    bottle = _before_glass(step, kinds=kinds, book=book)
    return [*found, *([bottle] if bottle else [])]


def _when_still(book: Book) -> gates.Verdict:
    """A step that its recipe keeps for a quiet wine."""
    if book.stillness.state == "still twice":
        return gates.Verdict("when still twice")
    words = f"the recipe keeps this step until it is still twice, and it is {book.stillness.state}"
    way = "read it again in three days"
    return gates.Verdict("when still twice", (gates.Reason(gates.LOOK_AGAIN, words, (way,)),))


def _before_glass(step: Step, *, kinds: Iterable[str], book: Book) -> gates.Verdict | None:
    """The verdict on a step that fills glass; none where no gate stands before it."""
    if progress.brings_to(step.title, kinds) != State.IN_GLASS:
        return None
    fizzy = is_meant_for_fizz(book.batch)
    [found, *_] = [*before_glass(book.batch, step, book=book, is_fizzy=fizzy), None]
    return found


def is_meant_for_fizz(batch: Batch) -> bool:
    return wishes_of(batch.recipe_version).closing == "fizz"


def before_glass(
    batch: Batch, step: Step | None, *, book: Book, is_fizzy: bool, is_reckoned: bool = False
) -> list[gates.Verdict]:
    """Whether the wine may go into glass; empty for what never ferments.

    `is_reckoned` tells that its priming is reckoned with what sugar is left. Six queries beside the book.
    """
    if batch.recipe_version.recipe.product in NO_FERMENT:
        return [gates.Verdict("bottle", (NEVER_FERMENTED,))] if is_fizzy else []
    facts = {
        "stillness": book.stillness.state,
        "finished": book.stillness.finished if book.finish.is_known else None,
        "is_steadied": steadying.is_steadied(batch),
    }
    sugar = sweetened.since_read(step, book)
    if is_fizzy:
        counted = is_reckoned or _is_left_counted(book) or sugar.is_primed
        found = gates.bottle_with_fizz(**facts, is_fined_bare=False, left_counted=counted)
        added = sugar.beside_priming
    else:
        found = gates.bottle_still(**facts)
        added = sugar.all_grams
    litres = volumes.of_batch(batch).amount / UL_PER_L
    sweet = gates.sweet_and_live(
        sugar_g_per_l=None if added is None or litres <= 0 else added / litres,
        yeast_alive=not facts["is_steadied"],
        closed=True,
    )
    return [gates.both("bottle", found, sweet)]


def _is_left_counted(book: Book) -> bool:
    """Nothing is left to count where it stands at its finish."""
    if book.now is None or book.finish.high is None:
        return False
    return book.now.figure.value <= book.finish.high + EQUAL_WITHIN


# Where the box of the form stands that opens a gate.
BOXES = {"identity": "confirmed", "yeast in": "must_c"}


def refuse_stops(verdicts: Iterable[gates.Verdict]) -> None:
    """Refuse with the reasons of every gate that stops, at the box that would open the first."""
    stops = [verdict for verdict in verdicts if verdict.level == gates.STOP]
    if stops:
        words = " ".join(words_of(verdict) for verdict in stops)
        raise Refusal(f"Stop: {words}", field=BOXES.get(stops[0].gate))


def refuse_without_reason(verdicts: Iterable[gates.Verdict], reason: str) -> list[gates.Verdict]:
    """The verdicts that say to look again; refuses, with their words, if no reason is given."""
    doubts = [verdict for verdict in verdicts if verdict.level == gates.LOOK_AGAIN]
    if doubts and not reason.strip():
        words = " ".join(words_of(verdict) for verdict in doubts)
        raise Refusal(f"Look again: {words} Go on only with the reason why.", field="reason")
    return doubts


def words_of(verdict: gates.Verdict) -> str:
    """All reasons with what would open them, as sentences."""
    said = []
    for reason in verdict.reasons:
        ways = f" ({'; or '.join(reason.ways_out)})" if reason.ways_out else ""
        said.append(f"{capfirst(reason.words)}{ways}.")
    return " ".join(said)
