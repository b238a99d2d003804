"""How did it taste, which wishes came true, and what should be done better?"""

import datetime as dt

from django.db import transaction

from inventory import activity, clock
from inventory.models import CellarLot, Person
from inventory.refusals import Refusal
from inventory.shown import day_text
from inventory.values import check_columns, check_day
from planner.models import Batch, Liking, Tasting


@transaction.atomic
def taste(
    *,
    batch: Batch,
    on: dt.date,
    liking: int,
    by: Person | None,
    lot: CellarLot | None = None,
    words: str = "",
    wishes: dict[str, bool] | None = None,
    again: bool | None = None,
    lesson: str = "",
) -> Tasting:
    """Write a tasting down; atomic, can be undone."""
    check_day(on, field="on")
    if on > clock.today():
        raise Refusal(f"{day_text(on)} is still to come.", field="on")
    if on < batch.start:
        raise Refusal(f"{batch} begins on {day_text(batch.start)}.", field="on")
    if liking not in Liking.values:
        raise Refusal("Say how it was.", field="liking")
    row = Tasting(batch=batch, lot=lot, day=on, liking=liking, words=words, again=again, by=by)
    row.wishes, row.lesson = wishes or {}, lesson
    check_columns(row, ["lesson", "words"])
    row.save(force_insert=True)
    activity.record(
        by=by,
        verb="taste",
        subject=row,
        summary=f"Tasted {batch}: {row.get_liking_display()}",
        undo="tastings.taste",
        undo_data={"tasting": row.pk},
    )
    return row


@activity.undoes("tastings.taste")
def _undo_taste(data: dict, by: Person | None) -> None:
    changed = Tasting.objects.filter(pk=data["tasting"], taken_back=False).update(taken_back=True)
    if not changed:
        raise Refusal("It has been taken back already.")


def wishes_of(batch: Batch) -> list[str]:
    """What was wished for when it was designed, in words to be asked for."""
    version = batch.recipe_version
    found = [version.get_sweet_display()] if version.sweet else []
    found += {"still": ["still"], "fizz": ["lively"], "open": []}.get(version.closing, [])
    return [*found, "a good nose", "clear", "lasting"]


def of_batch(batch: Batch) -> list[Tasting]:
    """The newest first; one query."""
    return list(
        Tasting.objects.filter(batch=batch, taken_back=False).select_related("by", "lot__item")
    )
