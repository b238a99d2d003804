"""How often has a cage or a closure been used, and what becomes of it when a bottle is opened?"""

import datetime as dt
from collections.abc import Iterable

from inventory import ledger
from inventory.models import Item, Lot, Movement, Person, UsedLot
from inventory.models.items import Kind
from inventory.refusals import Refusal

PIECE = 1000
Runs = list[list[int]]


def uses_allowed(item: Item) -> int:
    """How often one may be used; once where nobody has said more."""
    kind = {Kind.CLOSURE: "closure_type", Kind.CAGE: "cage_type"}.get(item.kind)
    described = getattr(item, kind, None) if kind else None
    return described.uses if described else 1


def take(
    *, item: Item, count: int, on: dt.date, by: Person | None, reason: str
) -> tuple[list[Movement], Runs]:
    """So many off the shelf, the most used first; the ledger's lines and how often each was used.

    The caller holds the item. Refuses more than there are.
    """
    lots = list(Lot.objects.filter(item=item).in_stock().select_related("used"))
    lots.sort(key=lambda lot: (-_uses(lot), lot.use_by or dt.date.max, lot.pk))
    wanted, takes, runs = count, [], []
    for lot in lots:
        taken = min(wanted, lot.on_hand // PIECE)
        if taken:
            takes.append((lot, taken * PIECE))
            runs.append([_uses(lot), taken])
            wanted -= taken
    if wanted:
        raise Refusal(f"{count} of {item} wanted, {count - wanted} are there.", field="count")
    return ledger.take_out(takes=takes, on=on, by=by, reason=reason), runs


def _uses(lot: Lot) -> int:
    return lot.used.uses if hasattr(lot, "used") else 0


def come_back(
    *, item: Item, runs: Runs, on: dt.date, by: Person | None, origin: str
) -> list[Movement]:
    """Those that may be used again go back on the shelf, one use older; the others are spent."""
    lines = []
    for uses, count in runs:
        if uses + 1 >= uses_allowed(item):
            continue
        line = ledger.bring_in(item=item, quantity=count * PIECE, on=on, by=by, origin=origin[:120])
        UsedLot.objects.create(lot=line.lot, uses=uses + 1)
        lines.append(line)
    return lines


def part_of(runs: Iterable[list[int]], *, skip: int, count: int) -> Runs:
    """Of runs of (uses, count) those numbered from `skip` on."""
    found: Runs = []
    for uses, held in runs:
        passed = min(skip, held)
        skip -= passed
        taken = min(count, held - passed)
        count -= taken
        if taken:
            found.append([uses, taken])
    return found


def words_of(lot: Lot) -> str:
    """How often the cages or closures of a lot have been used; empty for what has no count."""
    if lot.item.kind not in (Kind.CLOSURE, Kind.CAGE):
        return ""
    uses, most = _uses(lot), uses_allowed(lot.item)
    if uses >= most:
        return "spent"
    if uses and uses == most - 1:
        return "last use"
    return f"used {uses} time{'s' if uses != 1 else ''}" if uses else "new"
