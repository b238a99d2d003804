"""Bottling day: the wine goes into glass, is shut, laid down and written down, all at once."""

import datetime as dt
import uuid
from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from django.db import transaction

from inventory import activity, cellar, clock, glass, laying_down
from inventory import requirements as store
from inventory.laying_down import Filling
from inventory.locks import lock_items
from inventory.models import Activity, CellarLine, CellarLot, Fate, Item, Lot, Person, Requirement
from inventory.models.items import Kind
from inventory.refusals import Refusal
from inventory.shown import day_text
from inventory.values import check_columns, check_day
from planner import (
    added_steps,
    additions,
    bottled_drink,
    bottling_plan,
    compositions,
    gates,
    progress,
    step_gates,
    steps,
    volumes,
)
from planner import book as books
from planner.bottling_plan import Line, Wish
from planner.models import Batch, Bottling, Cause, Purpose, Step, Transfer
from planner.steps import hold
from planner.told import Told

UL_PER_L = 1_000_000
GLASS_KINDS = (Kind.BOTTLE, Kind.CLOSURE, Kind.CAGE)


@dataclass(frozen=True)
class Done:
    """What was really filled: bottles by item, one filled short, and those that broke."""

    counts: Mapping[int, int]
    broken: Mapping[int, int] = field(default_factory=dict)
    short: tuple[int, int] | None = None
    priming_lot: Lot | None = None
    reason: str = ""
    planned: int | None = None


@transaction.atomic
def bottle(*, batch: Batch, wish: Wish, done: Done, on: dt.date, by: Person | None) -> Bottling:
    """Fill bottles from a batch. Everything is written or nothing; can be undone as a whole.

    Refuses behind the gates of the wine, of sweetness and of pressure; where one says to look again,
    without the reason. The step that fills glass is done with it, priming sugar is taken by weight, and
    what the bottles hold is copied onto them.
    """
    _refuse_bad_day(batch, on)
    held, all_steps = hold(batch.pk)
    found = books.of_batch(held)
    step = _filling_step(all_steps)
    plan = bottling_plan.plan(held, found, _wish_for(wish, done))
    lines = _chosen(plan.lines, done)
    _hold_all_items(lines, step, done)
    _refuse_too_much(plan, lines, done)
    verdicts = [
        *step_gates.before_glass(held, step, book=found, is_fizzy=wish.is_fizzy, is_reckoned=True),
        *_pressed(lines, wish),
    ]
    step_gates.refuse_stops(verdicts)
    row = _row(held, step, plan, lines, wish, done, on, by)
    row.reason = _why(verdicts, done.reason)
    row.save(force_insert=True)
    with activity.collecting() as parts:
        sugar = _prime(row, lines, wish, done, on, by)
        if step:
            _do_step(step, verdicts, done, on, by)
        _lower_the_volume(held, row, wish, on, by)
        _break(done, on, by)
        drink = bottled_drink.of_batch(held, found, on=on, wish=wish, wine=plan.wine)
        laying_down.lay_down(
            drink=drink, fillings=_fillings(lines, done), place=wish.place, by=by, act=row.act
        )
        _keep_the_test_day(held, drink.test_on, by)
    progress.write_state(held, progress.further(held.state, Batch.State.IN_GLASS))
    activity.record(
        by=by,
        verb="bottle",
        subject=row,
        summary=f"Filled {sum(done.counts.values()) + bool(done.short)} bottles of {held}{sugar}",
        undo="bottling.bottle",
        undo_data={"bottling": row.pk, "state": batch.state, "activities": parts[::-1]},
    )
    return row


def _refuse_bad_day(batch: Batch, on: dt.date) -> None:
    check_day(on, field="on")
    if on > clock.today():
        raise Refusal(f"{day_text(on)} is still to come.", field="on")
    if on < batch.start:
        raise Refusal(f"{batch} begins on {day_text(batch.start)}.", field="on")


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


def _wish_for(wish: Wish, done: Done) -> Wish:
    """The plan is only asked which bottles there are and how they press; the counts are the person's."""
    values = {name: getattr(wish, name) for name in wish.__dataclass_fields__}
    return Wish(**values | {"with_dirty": False, "wished": {}, "short_ok": False})


def _chosen(lines: Iterable[Line], done: Done) -> list[Line]:
    by_item = {line.item.pk: line for line in lines}
    wanted = {key for key, count in done.counts.items() if count} | (
        {done.short[0]} if done.short else set()
    )
    lost = wanted - set(by_item)
    if lost:
        names = ", ".join(Item.objects.filter(pk__in=lost).values_list("name", flat=True))
        raise Refusal(f"Not to be filled today: {names or 'an unknown bottle'}.", field="counts")
    return [by_item[key] for key in by_item if key in wanted]


def _hold_all_items(lines: Iterable[Line], step: Step | None, done: Done) -> None:
    """All at once and in one order, so that two bottlings never wait for each other."""
    items = {part.pk for line in lines for part in (line.item, line.closure, line.cage) if part}
    if step:
        items |= set(step.needs.values_list("requirement__item", flat=True))
    if done.priming_lot:
        items.add(done.priming_lot.item_id)
    lock_items(items)


def _refuse_too_much(plan: bottling_plan.Plan, lines: list[Line], done: Done) -> None:
    if not lines:
        raise Refusal("Say how many bottles were filled.", field="counts")
    for line in lines:
        wanted = done.counts.get(line.item.pk, 0) + (
            bool(done.short) and done.short[0] == line.item.pk
        )
        wanted += done.broken.get(line.item.pk, 0)
        if wanted > line.clean:
            raise Refusal(
                f"{wanted} of {line.item} wanted, {line.clean} are clean.",
                field=f"count_{line.item.pk}",
            )
    if _filled(lines, done) > plan.volume:
        raise Refusal(
            f"{_filled(lines, done) / UL_PER_L:.2f} L in these bottles, {plan.volume / UL_PER_L:.2f} L are "
            "there after sample and hose.",
            field="counts",
        )


def _filled(lines: Iterable[Line], done: Done) -> int:
    whole = sum(line.kind.nominal * done.counts.get(line.item.pk, 0) for line in lines)
    return whole + (done.short[1] if done.short else 0)


def _pressed(lines: Iterable[Line], wish: Wish) -> list[gates.Verdict]:
    """The pressure of every kind that is filled; what cannot be reckoned is stopped."""
    if not wish.is_fizzy:
        return []
    found = []
    for line in lines:
        if line.pressed is None:
            reason = gates.Reason(
                gates.STOP, f"{line.item}: {line.problem}", ("less fizz", "another bottle")
            )
            found.append(gates.Verdict("pressure", (reason,)))
            continue
        reasons = tuple(
            gates.Reason(one.level, f"{line.item}: {one.words}", one.ways_out)
            for one in line.pressed.verdict.reasons
        )
        found.append(gates.Verdict("pressure", reasons))
    return found


def _why(verdicts: Iterable[gates.Verdict], reason: str) -> str:
    doubts = [verdict for verdict in verdicts if verdict.level == gates.LOOK_AGAIN]
    if doubts and not reason.strip():
        words = " ".join(step_gates.words_of(verdict) for verdict in doubts)
        raise Refusal(f"Look again: {words} Go on only with the reason why.", field="reason")
    return reason.strip()[:400]


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
    row.filled = _filled(lines, done)
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
    grams = sum(
        line.pressed.dose_g * done.counts.get(line.item.pk, 0)
        + (
            line.pressed.dose_g_per_l * done.short[1] / UL_PER_L
            if done.short and done.short[0] == line.item.pk
            else 0
        )
        for line in lines
    )
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


def _do_step(
    step: Step, verdicts: list[gates.Verdict], done: Done, on: dt.date, by: Person | None
) -> None:
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


def _fillings(lines: Iterable[Line], done: Done) -> list[Filling]:
    found = []
    for line in lines:
        co2 = round(line.pressed.co2_g_per_l * 1000) if line.pressed else None
        same = {"item": line.item, "closure": line.closure, "cage": line.cage, "co2": co2}
        found.append(
            Filling(count=done.counts.get(line.item.pk, 0), fill=line.kind.nominal, **same)
        )
        if done.short and done.short[0] == line.item.pk:
            found.append(Filling(count=1, fill=done.short[1], **same))
    return found


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
