"""Bottling day: the wine goes into glass, is shut, laid down and written down, all at once."""

import datetime as dt
import uuid
from collections.abc import Iterable
from dataclasses import replace

from django.db import transaction

from inventory import activity, cellar, glass, laying_down
from inventory import requirements as store
from inventory.locks import lock_items
from inventory.models import Activity, CellarLine, CellarLot, Fate, Item, Person, Requirement
from inventory.models.items import Kind
from inventory.refusals import Refusal
from inventory.values import check_columns
from planner import (
    added_steps,
    additions,
    bottled_drink,
    bottling_plan,
    compositions,
    filled,
    progress,
    step_gates,
    steps,
    volumes,
)
from planner import book as books
from planner.bottling_plan import Line, Wish
from planner.filled import Done
from planner.models import Batch, Bottling, Cause, Purpose, Step, Transfer
from planner.steps import hold
from planner.told import Told

GLASS_KINDS = (Kind.BOTTLE, Kind.CLOSURE, Kind.CAGE)


@transaction.atomic
def bottle(*, batch: Batch, wish: Wish, done: Done, on: dt.date, by: Person | None) -> Bottling:
    """Fill bottles from a batch. Everything is written or nothing; can be undone as a whole.

    Refuses behind the gates of the wine, of sweetness and of pressure; where one says to look again,
    without the reason. The step that fills glass is done with it, priming sugar is taken by weight, and
    what the bottles hold is copied onto them.
    """
    held, all_steps = hold(batch.pk)
    volumes.refuse_bad_day(held, on)
    found = books.of_batch(held)
    step = _filling_step(all_steps)
    # The plan only says which bottles there are and how they press; the counts are the person's.
    asked = replace(wish, with_dirty=False, wished={}, short_ok=False)
    plan = bottling_plan.plan(held, found, asked)
    lines = filled.chosen(plan.lines, done)
    _hold_all_items(lines, step, done)
    filled.refuse_too_much(plan, lines, done)
    verdicts = [
        *step_gates.before_glass(held, step, book=found, is_fizzy=wish.is_fizzy, is_reckoned=True),
        *(filled.pressed(lines) if wish.is_fizzy else []),
    ]
    step_gates.refuse_stops(verdicts)
    step_gates.refuse_without_reason(verdicts, done.reason)
    row = _row(held, step, plan, lines, wish, done, on, by)
    row.reason = done.reason.strip()[:400]
    row.save(force_insert=True)
    with activity.collecting() as parts:
        sugar = _prime(row, lines, wish, done, on, by)
        if step:
            _do_step(step, done, on, by)
        _lower_the_volume(held, row, wish, on, by)
        _break(done, on, by)
        drink = bottled_drink.of_batch(held, found, on=on, wish=wish, wine=plan.wine)
        laying_down.lay_down(
            drink=drink, fillings=filled.fillings(lines, done), place=wish.place, by=by, act=row.act
        )
        _keep_the_test_day(held, drink.test_on, by)
    before = held.state
    progress.write_state(held, progress.further(held.state, Batch.State.IN_GLASS))
    activity.record(
        by=by,
        verb="bottle",
        subject=row,
        summary=f"Filled {sum(done.counts.values()) + bool(done.short)} bottles of {held}{sugar}",
        undo="bottling.bottle",
        undo_data={"bottling": row.pk, "state": before, "activities": parts[::-1]},
    )
    return row


def of_batch(batch: Batch) -> list[Bottling]:
    """Its bottlings, each with its `lots` and how many of each are `left`; four queries."""
    rows = list(Bottling.objects.filter(batch=batch, taken_back=False).select_related("place"))
    lots = list(CellarLot.objects.filter(origin=batch.origin).select_related("item"))
    there = cellar.held(lots)
    laid = CellarLine.objects.filter(lot__in=lots, fate=Fate.LAID, undoes=None)
    act_of = dict(laid.values_list("lot", "act"))
    for lot in lots:
        lot.left = sum(there.get(lot.pk, {}).values())
    for row in rows:
        row.lots = [lot for lot in lots if act_of.get(lot.pk) == row.act]
    return rows


def filling_step(batch: Batch) -> Step | None:
    """The first step still to do at which the wine leaves its vessels."""
    return _filling_step(steps.steps_of(batch))


def _filling_step(all_steps: Iterable[Step]) -> Step | None:
    for step in all_steps:
        if not step.is_open:
            continue
        kinds = step.needs.values_list("requirement__item__kind", flat=True)
        if progress.brings_to(step.title, kinds) == Batch.State.IN_GLASS:
            return step
    return None


def _hold_all_items(lines: Iterable[Line], step: Step | None, done: Done) -> None:
    """All at once and in one order, so that two bottlings never wait for each other."""
    items = {part.pk for line in lines for part in (line.item, line.closure, line.cage) if part}
    if step:
        items |= set(step.needs.values_list("requirement__item", flat=True))
    if done.priming_lot:
        items.add(done.priming_lot.item_id)
    lock_items(items)


def _row(
    batch: Batch,
    step: Step | None,
    plan: bottling_plan.Plan,
    lines: list[Line],
    wish: Wish,
    done: Done,
    on: dt.date,
    by: Person | None,
) -> Bottling:
    row = Bottling(batch=batch, step=step, place=wish.place, day=on, by=by, planned=done.planned)
    row.volume = plan.volume + wish.sample + wish.hose
    row.filled = filled.volume(lines, done)
    row.broken = sum(done.broken.values())
    row.is_fizzy = wish.is_fizzy
    if wish.is_fizzy:
        row.target = round(wish.volumes * 1000)
        row.warmest = round(wish.warmest_c * 1000)
    row.act = uuid.uuid4()
    check_columns(row, ["reason"])
    return row


def _prime(
    row: Bottling, lines: list[Line], wish: Wish, done: Done, on: dt.date, by: Person | None
) -> str:
    """Take the priming sugar by weight; in words how much it was."""
    if not wish.is_fizzy:
        return ""
    grams = filled.sugar_g(lines, done)
    if grams < 0.001:
        return ""
    if done.priming_lot is None:
        raise Refusal("Say out of which lot the priming sugar comes.", field="priming_lot")
    rule = f"{wish.volumes:g} volumes, warmest {wish.warmest_c:g} °C, by the bottle"
    dose = additions.add(
        batch=row.batch,
        lot=done.priming_lot,
        amount=round(grams * 1000),
        on=on,
        by=by,
        purpose=Purpose.PRIMING,
        rule=rule,
    )
    row.sugar = dose.amount
    row.save(update_fields=["sugar"])
    return f", {grams:.1f} g of priming sugar"


def _do_step(step: Step, done: Done, on: dt.date, by: Person | None) -> None:
    """What it asked for of glass and sugar is what was really taken, so those needs fall away."""
    rows = Requirement.objects.filter(step_need__step=step, state=Requirement.State.OPEN)
    needs = [
        need
        for need in rows.select_related("item")
        if need.item.kind in GLASS_KINDS or compositions.counts(need.item)
    ]
    if needs:
        store.withdraw(requirements=needs, by=by)
    steps.complete_step(step=step, on=on, by=by, told=Told(reason=done.reason), filled=True)


def _lower_the_volume(
    batch: Batch, row: Bottling, wish: Wish, on: dt.date, by: Person | None
) -> None:
    for cause, amount in ((Cause.SAMPLE, wish.sample), (Cause.HOSE, wish.hose)):
        if amount:
            volumes.take(batch=batch, cause=cause, amount=amount, on=on, by=by)
    volumes.stand(batch, on, by)
    volumes.write(batch=batch, cause=Cause.GLASS, change=-row.filled, on=on, by=by, act=row.act)


def _keep_the_test_day(batch: Batch, day: dt.date | None, by: Person | None) -> None:
    """A step to open a test bottle, so that it stands on Today and in the calendars; one if none is left."""
    if day is None or batch.steps.filter(state=Step.State.TO_DO, title__icontains="test").exists():
        return
    notes = "Cold, with a towel over it, away from faces: the smallest, or the one of plastic."
    added_steps.add_steps(batch=batch, title="Open a test bottle", day=day, by=by, notes=notes)


def _break(done: Done, on: dt.date, by: Person | None) -> None:
    for key, count in done.broken.items():
        if count:
            glass.move(
                item=Item.objects.get(pk=key),
                count=count,
                source=glass.CLEAN,
                target="cracked",
                on=on,
                by=by,
                reason="broke on bottling day",
            )


@activity.undoes("bottling.bottle")
def _undo_bottle(data: dict, by: Person | None) -> None:
    row = Bottling.objects.select_for_update(of=("self",)).get(pk=data["bottling"])
    if row.taken_back:
        raise Refusal("It has been taken back already.")
    held, _ = hold(row.batch_id)
    laying_down.take_up(str(row.act), by)
    if Transfer.objects.filter(act=row.act, undoes=None, transfer=None).exists():
        volumes.write_opposite(str(row.act), by)
    for key in data["activities"]:
        one = Activity.objects.get(pk=key)
        if one.can_undo:
            activity.undo(activity=one, by=by)
    row.taken_back = True
    row.save(update_fields=["taken_back"])
    progress.write_state(held, data["state"])
