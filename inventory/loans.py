"""Which bottles are lent, to whom, and when do they come back?"""

import datetime as dt

from django.db import transaction
from django.db.models import F

from inventory import activity, glass
from inventory.models import GlassState, Item, Loan, Person, StoragePlace
from inventory.refusals import Refusal
from inventory.values import check_row


@transaction.atomic
def lend(
    *,
    item: Item,
    count: int,
    to: str,
    on: dt.date,
    by: Person | None,
    due: dt.date | None = None,
    full: bool = False,
) -> Loan:
    """Lend clean bottles, or full ones whose glass should come back; atomic, can be undone."""
    if due is not None and due < on:
        raise Refusal("They cannot be wanted back before they are lent.", field="due")
    loan = Loan(item=item, to=to.strip(), count=count, lent=on, due=due)
    check_row(loan)
    loan.save(force_insert=True)
    lines = glass.write_move(
        item=item,
        count=count,
        source=GlassState.FILLED if full else glass.CLEAN,
        target=GlassState.LENT,
        on=on,
        by=by,
        reason=f"to {loan.to}",
    )
    _record(loan, count, "loans.lend", f"Lent {count} {item} to {loan.to}", lines, by)
    return loan


@transaction.atomic
def give_back(
    *,
    loan: Loan,
    count: int,
    on: dt.date,
    by: Person | None,
    state: str = GlassState.DIRTY,
    place: StoragePlace | None = None,
) -> Loan:
    """Lent bottles come back dirty, clean or cracked; refuses more than are out. Can be undone."""
    held = Loan.objects.select_for_update().get(pk=loan.pk)
    if count > held.out:
        raise Refusal(f"{held.to} has {held.out} of them, not {count}.", field="count")
    if on < held.lent:
        raise Refusal("They cannot come back before they were lent.", field="on")
    lines = glass.write_move(
        item=held.item,
        count=count,
        source=GlassState.LENT,
        target=state,
        on=on,
        by=by,
        place=place,
        reason=f"from {held.to}",
    )
    _change(held.pk, count)
    held.refresh_from_db()
    said = f"{held.to} gave back {count} {held.item}, {state}"
    _record(held, count, "loans.give_back", said, lines, by)
    return held


def _change(key: int, count: int) -> None:
    row = Loan.objects.filter(pk=key)
    row.update(returned=F("returned") + count, version=F("version") + 1)


def _record(loan: Loan, count: int, undo: str, said: str, lines: list, by: Person | None) -> None:
    activity.record(
        by=by,
        verb="lend" if undo == "loans.lend" else "give back",
        subject=loan,
        summary=said,
        link=loan.item.get_absolute_url(),
        undo=undo,
        undo_data={"loan": loan.pk, "count": count, "act": str(lines[0].act)},
    )


@activity.undoes("loans.lend")
def _undo_lend(data: dict, by: Person | None) -> None:
    loan = Loan.objects.select_for_update().get(pk=data["loan"])
    if loan.returned:
        raise Refusal(f"{loan.returned} of them came back already; undo that first.")
    glass.undo_move(act=data["act"], by=by)
    _change(loan.pk, loan.count)


@activity.undoes("loans.give_back")
def _undo_give_back(data: dict, by: Person | None) -> None:
    Loan.objects.select_for_update().get(pk=data["loan"])
    glass.undo_move(act=data["act"], by=by)
    _change(data["loan"], -data["count"])
