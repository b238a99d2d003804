"""What was added to a batch, out of which lot, and by which rule?"""

import datetime as dt
import re

from django.db import transaction

from inventory import activity, clock, household, ledger
from inventory.dealing import deal
from inventory.ledger import said
from inventory.locks import lock_items, lock_lots
from inventory.models import Lot, Movement, Person
from inventory.models.items import BaseUnit
from inventory.refusals import Refusal
from inventory.shown import day_text, quantity_text
from inventory.units import METRIC
from inventory.values import check_columns, check_day, check_quantity
from planner import dose_gate, gates, step_gates, volumes
from planner.chemistry.sugar import DISPLACED_L_PER_KG
from planner.models import Addition, Batch, Step, Transfer
from planner.models.book import Purpose

# Of these a kilogram takes its room in the batch.
SWEET = (Purpose.SUGAR,)
SPOON = re.compile(r"\b(t(ea|able)?sp(oon(ful)?)?s?|tbsp|spoon)", re.IGNORECASE)


@transaction.atomic
def add(
    *,
    batch: Batch,
    lot: Lot | None,
    amount: int,
    on: dt.date,
    by: Person | None,
    purpose: str,
    rule: str = "",
    source: str = "",
    step: Step | None = None,
    note: str = "",
    reason: str = "",
) -> Addition:
    """Put so much of a lot into a batch, or of water without one; the ledger's line goes with it.

    A dose over a limit is refused, one near it without the `reason`, which is kept with the note. What
    water or sugar adds to the volume goes into its ledger. All of it is written, or nothing is. Can be
    undone.
    """
    _refuse_bad(batch, lot, amount, on, purpose)
    # Before the item, as on a bottling day, so that the two never wait for each other.
    Batch.objects.select_for_update(no_key=True).get(pk=batch.pk)
    note = _past_the_gate(batch, lot, amount, purpose, reason, note)
    what = str(lot.item) if lot else Purpose(purpose).label
    base = lot.item.base if lot else BaseUnit.VOLUME
    row = Addition(batch=batch, step=step, purpose=purpose, what=what, amount=amount, base=base)
    row.item = lot.item if lot else None
    row.day, row.by, row.rule, row.source, row.note = on, by, rule[:120], source[:200], note
    check_columns(row, ["what", "note"])
    if lot:
        row.movement = _take(lot, amount, on, by, batch)
    row.save(force_insert=True)
    swelling = _swell(row, lot, by)
    how_much = said(lot.item, amount) if lot else quantity_text(amount, base, METRIC)
    activity.record(
        by=by,
        verb="add to",
        subject=row,
        summary=f"Added {how_much} of {what} to {batch}",
        undo="additions.add",
        undo_data={"addition": row.pk, "acts": [str(line.act) for line in swelling]},
    )
    return row


def _past_the_gate(
    batch: Batch, lot: Lot | None, amount: int, purpose: str, reason: str, note: str
) -> str:
    """The note with the reason in it, where the gate says to look again."""
    if lot is None:
        return note
    country = household.current().country
    verdict = dose_gate.of_addition(
        batch=batch, item=lot.item, amount=amount, purpose=purpose, country=country
    )
    if verdict is None or verdict.level == gates.GO:
        return note
    if verdict.level == gates.STOP:
        raise Refusal(f"Stop: {step_gates.words_of(verdict)}", field="amount")
    step_gates.refuse_without_reason([verdict], reason)
    return "; ".join(filter(None, [note, f"all the same: {reason.strip()}"]))[:200]


def _swell(row: Addition, lot: Lot | None, by: Person | None) -> list[Transfer]:
    """Water adds its volume, sugar the room it takes dissolved."""
    amount = row.amount if lot is None else 0
    if row.purpose in SWEET and lot is not None and lot.item.base == BaseUnit.MASS:
        amount = round(row.amount * DISPLACED_L_PER_KG)
    if amount < 1:
        return []
    return [volumes.swell(batch=row.batch, amount=amount, on=row.day, by=by, note=row.what)]


def refuse_spoons(text: str, purpose: str) -> None:
    """Sulphite is weighed: a spoon of it may be a third more or less, and too much harms."""
    if purpose == Purpose.SULPHITE and SPOON.search(text):
        raise Refusal("Sulphite is weighed, never measured by the spoon.", field="amount")


def _refuse_bad(batch: Batch, lot: Lot | None, amount: int, on: dt.date, purpose: str) -> None:
    check_quantity(amount, field="amount")
    check_day(on, field="on")
    if purpose not in Purpose.values:
        raise Refusal(f"{purpose!r} is no purpose of an addition.", field="purpose")
    if lot is None and purpose != Purpose.WATER:
        raise Refusal("Say out of which lot it comes.", field="lot")
    if on > clock.today():
        raise Refusal(f"{day_text(on)} is still to come.", field="on")
    if on < batch.start:
        raise Refusal(f"{batch} begins on {day_text(batch.start)}.", field="on")
    if batch.state == Batch.State.DROPPED:
        raise Refusal(f"{batch} has been dropped; take that back first.")


def _take(lot: Lot, amount: int, on: dt.date, by: Person | None, batch: Batch) -> Movement:
    lock_items([lot.item_id])
    try:
        line = ledger.take_out(
            takes=[(lot, amount)], on=on, by=by, reason=f"added to {batch}"[:200]
        )
    except Refusal as refusal:
        raise Refusal(refusal.message, field="amount") from None
    deal(items=[lot.item_id], by=by, locked=True)
    return line[0]


@activity.undoes("additions.add")
def _undo_add(data: dict, by: Person | None) -> None:
    row = Addition.objects.select_for_update(of=("self",)).get(pk=data["addition"])
    if row.taken_back:
        raise Refusal("It has been taken back already.")
    if row.movement:
        lot = lock_lots([row.movement.lot_id])[row.movement.lot_id]
        ledger.write_opposite(row.movement, by)
        deal(items=[lot.item_id], by=by, locked=True)
    for act in data.get("acts", []):
        volumes.write_opposite(act, by)
    row.taken_back = True
    row.save(update_fields=["taken_back"])
