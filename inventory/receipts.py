"""What is on its way, and what became of it?"""

import datetime as dt

from django.db import transaction
from django.db.models import F

from inventory import activity, ledger, outstanding
from inventory.dealing import deal
from inventory.locks import lock_items
from inventory.models import Item, Lot, Person, Receipt, StoragePlace
from inventory.refusals import Refusal
from inventory.values import check_columns, check_day, check_quantity

State = Receipt.State


@transaction.atomic
def expect(
    *,
    item: Item,
    quantity: int,
    due: dt.date,
    by: Person | None,
    shop: str = "",
    note: str = "",
) -> Receipt:
    """Note goods as on their way; atomic, can be undone."""
    check_quantity(quantity)
    check_day(due, field="due")
    receipt = Receipt(item=item, quantity=quantity, due=due, shop=shop or item.shop, note=note)
    check_columns(receipt, ["shop", "note"])
    lock_items([item.pk])
    receipt.save(force_insert=True)
    said = f"{ledger.said(item, quantity)} of {item} is on its way, due {_day(due)}"
    deal(items=[item.pk], by=by, locked=True)
    _record(receipt, by, "expect", said, undo="receipts.expect")
    return receipt


@transaction.atomic
def arrive(
    *,
    receipt: Receipt,
    quantity: int,
    on: dt.date,
    by: Person | None,
    place: StoragePlace | None = None,
    use_by: dt.date | None = None,
    cost: int | None = None,
) -> Lot:
    """Take in what came as a new lot; if less came than was expected, the rest stays on its way."""
    return ledger.receive(
        item=receipt.item,
        quantity=quantity,
        on=on,
        by=by,
        place=place,
        use_by=use_by,
        origin=receipt.shop,
        cost=cost,
        receipt=receipt,
    )


@transaction.atomic
def cancel(*, receipt: Receipt, by: Person | None) -> Receipt:
    """No longer expect what has not come yet; atomic, can be undone."""
    held = _hold(receipt)
    _set(held, state=State.CANCELLED)
    said = f"{ledger.said(held.item, held.quantity)} of {held.item} will not come"
    deal(items=[held.item_id], by=by, locked=True)
    _record(held, by, "cancel", said, undo="receipts.cancel")
    return held


@transaction.atomic
def move(*, receipt: Receipt, due: dt.date, by: Person | None) -> Receipt:
    """Expect it on another day; atomic, can be undone."""
    check_day(due, field="due")
    held = _hold(receipt)
    former = held.due
    _set(held, due=due)
    said = f"{held.item} is now due {_day(due)}, not {_day(former)}"
    deal(items=[held.item_id], by=by, locked=True)
    _record(held, by, "move", said, undo="receipts.move", due=former.isoformat())
    return held


@activity.undoes("receipts.expect")
def _undo_expect(data: dict, by: Person | None) -> None:
    held = _hold(Receipt.objects.get(pk=data["receipt"]))
    _set(held, state=State.CANCELLED)
    deal(items=[held.item_id], by=by, locked=True)


@activity.undoes("receipts.cancel")
def _undo_cancel(data: dict, by: Person | None) -> None:
    receipt = Receipt.objects.get(pk=data["receipt"])
    lock_items([receipt.item_id])
    if not Receipt.objects.filter(pk=receipt.pk, state=State.CANCELLED).exists():
        raise Refusal(f"{receipt} is not cancelled any more.")
    _set(receipt, state=State.EXPECTED)
    deal(items=[receipt.item_id], by=by, locked=True)


@activity.undoes("receipts.move")
def _undo_move(data: dict, by: Person | None) -> None:
    held = _hold(Receipt.objects.get(pk=data["receipt"]))
    _set(held, due=dt.date.fromisoformat(data["due"]))
    deal(items=[held.item_id], by=by, locked=True)


def _hold(receipt: Receipt) -> Receipt:
    lock_items([receipt.item_id])
    return outstanding.expected(receipt, receipt.item)


def _set(receipt: Receipt, **values) -> None:
    Receipt.objects.filter(pk=receipt.pk).update(**values, version=F("version") + 1)
    receipt.refresh_from_db()


def _record(receipt: Receipt, by: Person | None, verb: str, said: str, *, undo: str, **more):
    data = {"receipt": receipt.pk, **more}
    activity.record(by=by, verb=verb, subject=receipt, summary=said, undo=undo, undo_data=data)


def _day(day: dt.date) -> str:
    return f"{day.day} {day:%b %Y}"
