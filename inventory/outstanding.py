"""What is still expected or still asked for, after part of it came or was used?

The caller holds the item, so that what is read here stays so until the end of its transaction.
"""

from django.db.models import F

from inventory.models import Item, Lot, Receipt, Requirement
from inventory.refusals import Refusal


def expected(receipt: Receipt, item: Item) -> Receipt:
    """The receipt as it now stands: on its way, and of this item."""
    found = Receipt.objects.select_related("item").get(pk=receipt.pk)
    if found.state != Receipt.State.EXPECTED:
        raise Refusal(f"{found} is not on its way any more: {found.get_state_display()}.")
    if found.item_id != item.pk:
        raise Refusal(f"{found} is not {item}.", field="item")
    return found


def book_in(receipt: Receipt, lot: Lot, quantity: int) -> dict:
    """What came is no longer expected, the rest stays on its way. Returns what takes that back."""
    booked = min(quantity, receipt.quantity)
    row = Receipt.objects.filter(pk=receipt.pk)
    if booked < receipt.quantity:
        row.update(quantity=F("quantity") - booked, version=F("version") + 1)
    else:
        row.update(state=Receipt.State.ARRIVED, lot=lot, version=F("version") + 1)
    return {"receipt": receipt.pk, "booked": booked}


def expect_again(key: int, booked: int) -> None:
    """The opposite of booking in, in whatever order several of them are taken back."""
    row = Receipt.objects.filter(pk=key)
    if row.filter(state=Receipt.State.EXPECTED).exists():
        row.update(quantity=F("quantity") + booked, version=F("version") + 1)
    else:
        state = Receipt.State.EXPECTED
        row.update(state=state, quantity=booked, lot=None, version=F("version") + 1)


def open_need(requirement: Requirement, item: int) -> Requirement:
    """The need as it now stands: open, and for this item."""
    need = Requirement.objects.get(pk=requirement.pk)
    if need.state != Requirement.State.OPEN:
        raise Refusal(f"{need} is {need.get_state_display()}, not open.", field="requirement")
    if need.item_id != item:
        raise Refusal(f"{need} asks for something else.", field="requirement")
    return need


def ask_less(need: Requirement, quantity: int) -> dict:
    """The need asks for what is still lacking, or is met. Returns what takes that back."""
    covered = min(quantity, need.quantity)
    row = Requirement.objects.filter(pk=need.pk)
    if covered < need.quantity:
        row.update(quantity=F("quantity") - covered)
    else:
        row.update(state=Requirement.State.MET)
    return {"requirement": need.pk, "covered": covered}


def ask_again(key: int, covered: int) -> None:
    """The opposite of asking for less, in whatever order several of them are taken back."""
    row = Requirement.objects.filter(pk=key)
    if row.filter(state=Requirement.State.OPEN).exists():
        row.update(quantity=F("quantity") + covered)
    else:
        met = row.filter(state=Requirement.State.MET)
        met.update(state=Requirement.State.OPEN, quantity=covered)
