"""Two batches out of one, or one out of two: what goes with the wine?"""

import datetime as dt
import uuid
from collections.abc import Sequence

from django.db import transaction
from django.utils import timezone

from inventory import activity, clock
from inventory import requirements as store
from inventory.models import Person, Requirement
from inventory.models.items import BaseUnit
from inventory.refusals import Refusal
from inventory.requirements import Need
from inventory.values import check_quantity
from planner import occupancies, progress, requirements, volumes
from planner.batches import name_and_save
from planner.models import Addition, Batch, Cause, Reading, Step, StepNeed
from planner.progress import ENDED
from planner.steps import hold, open_needs, write

PIECE = 1000
State = Batch.State


@transaction.atomic
def part(*, batch: Batch, amount: int, name: str, on: dt.date, by: Person | None) -> Batch:
    """Part some of a batch off as a batch of its own, with its readings so far and what is left to do.

    What went in before stands in both by their shares, and so does what the steps to come need.
    Everything happens or nothing; can be undone while the new batch is untouched.
    """
    check_quantity(amount, field="amount")
    held, steps = hold(batch.pk)
    left = [step for step in steps if step.is_open]
    if not left:
        raise Refusal(f"Nothing of {held} is left to do, so there is nothing to part.")
    volumes.stand(held, on, by)
    whole = volumes.of_batch(held).amount
    if amount >= whole:
        raise Refusal("Part less of it than there is.", field="amount")
    child = Batch(
        recipe_version=held.recipe_version,
        volume=amount,
        start=held.start,
        state=held.state,
        planned_by=by,
        parent=held,
    )
    name_and_save(child, name.strip() or f"{held.name[:70]}, part")
    lines = volumes.write_pour(
        source=held, target=child, amount=amount, on=on, by=by, cause=Cause.PARTED
    )
    _copy_book(held, child, amount, whole, on)
    former = _share_steps(held, child, left, amount, whole, by)
    activity.record(
        by=by,
        verb="part",
        subject=child,
        summary=f"Parted {child} off {held}",
        undo="parting.part",
        undo_data={"child": child.pk, "act": str(lines[0].act), "needs": former},
    )
    return child


@transaction.atomic
def join(*, source: Batch, target: Batch, on: dt.date, by: Person | None) -> Batch:
    """Pour all of one batch into another; what was left to do for it falls away. Can be undone."""
    if source.pk == target.pk:
        raise Refusal("Choose another batch to pour it into.", field="target")
    list(Batch.objects.select_for_update(no_key=True).filter(pk__in=[source.pk, target.pk]))
    held, steps = hold(source.pk)
    other, _ = hold(target.pk)
    for batch in (held, other):
        if batch.state in ENDED:
            raise Refusal(f"{batch} is {batch.get_state_display()}.")
        volumes.stand(batch, on, by)
    amount = volumes.of_batch(held).amount
    if amount < 1:
        raise Refusal(f"Nothing of {held} is left.")
    lines = volumes.write_pour(source=held, target=other, amount=amount, on=on, by=by)
    open_steps = [step for step in steps if step.is_open]
    freed = store.withdraw(requirements=open_needs(open_steps), by=by, quiet=True)
    for step in open_steps:
        step.state = Step.State.SKIPPED
        step.remark = f"poured into {other}"[:400]
    write(open_steps, "state", "remark")
    data = {
        "source": held.pk,
        "state": held.state,
        "act": str(lines[0].act),
        "steps": [step.pk for step in open_steps],
        "needs": [need.pk for need in freed],
        "occupancies": occupancies.remove(held),
    }
    progress.write_state(held, State.JOINED)
    activity.record(
        by=by,
        verb="join",
        subject=other,
        summary=f"Poured {held} into {other}",
        undo="parting.join",
        undo_data=data,
    )
    return other


def _copy_book(held: Batch, child: Batch, amount: int, whole: int, on: dt.date) -> None:
    """Readings stand in both; of what went in each has its share, no line of the store behind it."""
    readings = list(held.readings.filter(struck=""))
    for row in readings:
        row.pk, row.batch, row._state.adding = None, child, True
        row.note = (f"before it was parted; {row.note}" if row.note else "before it was parted")[
            :200
        ]
    Reading.objects.bulk_create(readings)
    additions = list(held.additions.filter(taken_back=False, day__lte=on))
    for row in additions:
        row.pk, row.batch, row.movement, row.step, row._state.adding = None, child, None, None, True
        row.amount = max(1, round(row.amount * amount / whole))
        row.note = f"its share of what went into {held}"[:200]
    Addition.objects.bulk_create(additions)


def _share_steps(
    held: Batch, child: Batch, left: Sequence[Step], amount: int, whole: int, by: Person | None
) -> dict[str, int]:
    """The steps to come in both; what they need by shares. The needs as they stood before."""
    now = timezone.now()
    copies = {
        step.pk: Step(
            batch=child,
            template=step.template,
            place=number,
            title=step.title,
            notes=step.notes,
            weekend=step.weekend,
            nominal=step.nominal,
            day=step.day,
            pinned=step.pinned,
            uid=uuid.uuid4(),
            changed_at=now,
        )
        for number, step in enumerate(left, start=1)
    }
    Step.objects.bulk_create(copies.values())
    ties = list(
        StepNeed.objects.filter(
            step__in=copies, requirement__state=Requirement.State.OPEN
        ).select_related("requirement__item")
    )
    shares = {tie.pk: _share(tie.requirement, amount, whole) for tie in ties}
    former = {str(tie.requirement_id): tie.requirement.quantity for tie in ties}
    stays = {
        tie.requirement_id: tie.requirement.quantity - shares[tie.pk]
        for tie in ties
        if tie.requirement.quantity > shares[tie.pk]
    }
    store.resize(sizes=stays, by=by)
    asked = store.need_all(
        needs=[
            Need(
                item=tie.requirement.item,
                quantity=shares[tie.pk],
                day=copies[tie.step_id].day,
                label=requirements.label_of(copies[tie.step_id]),
                origin=child.origin,
                link=copies[tie.step_id].get_absolute_url(),
            )
            for tie in ties
        ],
        by=by,
        quiet=True,
    )
    StepNeed.objects.bulk_create(
        StepNeed(step=copies[tie.step_id], requirement=need)
        for tie, need in zip(ties, asked, strict=True)
    )
    return former


def _share(need: Requirement, amount: int, whole: int) -> int:
    """Rounded up to whole pieces: half a sachet is not had."""
    size = PIECE if need.item.base == BaseUnit.PIECES else 1
    return -(-need.quantity * amount // (whole * size)) * size


@activity.undoes("parting.part")
def _undo_part(data: dict, by: Person | None) -> None:
    child, steps = hold(data["child"])
    since = child.transfers.exclude(act=data["act"]).filter(undoes=None, transfer=None)
    if any(not step.is_open for step in steps) or since.exists():
        raise Refusal(f"Something has been done with {child} since; pour it back instead.")
    store.withdraw(requirements=open_needs(steps), by=by, quiet=True)
    store.resize(sizes={int(key): size for key, size in data["needs"].items()}, by=by)
    for step in steps:
        step.state = Step.State.CANCELLED
    write(steps, "state")
    occupancies.remove(child)
    volumes.write_opposite(data["act"], by)
    child.dropped = clock.today()
    child.save(update_fields=["dropped"])
    progress.write_state(child, State.DROPPED)


@activity.undoes("parting.join")
def _undo_join(data: dict, by: Person | None) -> None:
    held, steps = hold(data["source"])
    if held.state != State.JOINED:
        raise Refusal(f"{held} is {held.get_state_display()} by now.")
    volumes.write_opposite(data["act"], by)
    progress.write_state(held, data["state"])
    again = [step for step in steps if step.pk in set(data["steps"])]
    for step in again:
        step.state, step.remark = Step.State.TO_DO, ""
    write(again, "state", "remark")
    needs = Requirement.objects.filter(pk__in=data["needs"])
    store.reinstate(requirements=needs, by=by, quiet=True)
    occupancies.restore(held, data["occupancies"], steps)
