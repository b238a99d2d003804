"""Another item is taken for a step instead of one that is short."""

from dataclasses import dataclass

from django.db import transaction

from inventory import activity, ledger
from inventory import requirements as store
from inventory.models import Person, Requirement, Substitute
from inventory.refusals import Refusal
from inventory.requirements import Need
from planner.models import Step, StepNeed
from planner.steps import hold


@dataclass(frozen=True)
class Offer:
    """What a step lacks, and one thing that would do: how much of it, and what is on hand."""

    need: Requirement
    substitute: Substitute
    amount: int
    held: int

    @property
    def is_enough(self) -> bool:
        return self.held >= self.amount


def offers(step: Step) -> list[Offer]:
    """For what is not wholly put by for a step, what may stand in for it; four queries."""
    needs = Requirement.objects.filter(step_need__step=step, state=Requirement.State.OPEN)
    lacking = [
        need
        for need in needs.select_related("item").prefetch_related("reservations")
        if need.lacking > 0
    ]
    rows = Substitute.objects.filter(item__in=[need.item_id for need in lacking])
    rows = list(rows.select_related("other"))
    held = ledger.stock([row.other_id for row in rows])
    return [
        Offer(need, row, row.amount(need.quantity), held.get(row.other_id, 0))
        for need in lacking
        for row in rows
        if row.item_id == need.item_id
    ]


@transaction.atomic
def swap(*, need: Requirement, substitute: Substitute, by: Person | None) -> Requirement:
    """Need so much of the substitute on the same day instead; atomic, can be undone."""
    tie = StepNeed.objects.select_related("step").filter(requirement=need).first()
    if tie is None or need.state != Requirement.State.OPEN:
        raise Refusal("No step needs that any more.")
    if substitute.item_id != need.item_id:
        raise Refusal(f"{substitute.other} does not stand in for {need.item}.")
    batch, _ = hold(tie.step.batch_id)
    store.withdraw(requirements=[need], by=by, quiet=True)
    wanted = Need(
        item=substitute.other,
        quantity=substitute.amount(need.quantity),
        day=need.day,
        label=need.label,
        origin=need.origin,
        link=need.link,
    )
    [row] = store.need_all(needs=[wanted], by=by, quiet=True)
    StepNeed.objects.create(step=tie.step, requirement=row)
    activity.record(
        by=by,
        verb="instead",
        subject=batch,
        summary=f"{substitute.other} instead of {need.item} for {need.label}",
        undo="instead.swap",
        undo_data={"former": need.pk, "latter": row.pk},
    )
    return row


@activity.undoes("instead.swap")
def _undo_swap(data: dict, by: Person | None) -> None:
    latter = Requirement.objects.get(pk=data["latter"])
    if latter.state != Requirement.State.OPEN:
        raise Refusal(f"{latter.item} has been used by now.")
    hold(StepNeed.objects.get(requirement=latter).step.batch_id)
    store.withdraw(requirements=[latter], by=by, quiet=True)
    store.reinstate(requirements=Requirement.objects.filter(pk=data["former"]), by=by, quiet=True)
