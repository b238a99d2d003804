"""What was done here, by whom, and what undoes it."""

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from contextvars import ContextVar

from django.db import models, transaction

from inventory.models import Activity, Person
from inventory.refusals import Refusal

Undoer = Callable[[dict, Person | None], None]
UNDOERS: dict[str, Undoer] = {}
_COLLECTED: ContextVar[list[int] | None] = ContextVar("collected", default=None)


def undoes(name: str) -> Callable[[Undoer], Undoer]:
    """Mark a function as the one that undoes activities recorded with `undo=name`."""

    def register(function: Undoer) -> Undoer:
        UNDOERS[name] = function
        return function

    return register


def record(
    *,
    by: Person | None,
    verb: str,
    subject: models.Model,
    summary: str,
    link: str = "",
    undo: str = "",
    undo_data: dict | None = None,
) -> Activity:
    """One row about one thing done; call it inside the transaction that does it."""
    row = Activity.objects.create(
        by=by,
        verb=verb,
        model=subject._meta.label,
        object_id=subject.pk,
        summary=summary[:400],
        link=link or _address(subject),
        undo=undo,
        undo_data=undo_data or {},
    )
    collected = _COLLECTED.get()
    if collected is not None:
        collected.append(row.pk)
    return row


@contextmanager
def collecting() -> Iterator[list[int]]:
    """The keys of what is recorded meanwhile, for a larger act that undoes its parts in turn."""
    found: list[int] = []
    before = _COLLECTED.set(found)
    try:
        yield found
    finally:
        _COLLECTED.reset(before)


def _address(subject: models.Model) -> str:
    return subject.get_absolute_url() if hasattr(subject, "get_absolute_url") else ""


@transaction.atomic
def undo(*, activity: Activity, by: Person | None) -> Activity:
    """Do the opposite of an activity, once; the opposite and its record happen together."""
    held = Activity.objects.select_for_update().get(pk=activity.pk)
    if not held.can_undo:
        raise Refusal(f"“{held.summary}” cannot be undone, or has been undone already.")
    UNDOERS[held.undo](held.undo_data, by)
    opposite = Activity.objects.create(
        by=by,
        verb="undo",
        model=held.model,
        object_id=held.object_id,
        summary=f"Undone: {held.summary}"[:400],
        link=held.link,
    )
    held.undone_by = opposite
    held.save(update_fields=["undone_by"])
    return opposite
