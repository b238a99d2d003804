"""Which of the lots of one item is used for which need, and which part of them passes its date unused?"""

from collections.abc import Iterable, Mapping, Sequence
from heapq import heapify, heappop, heappush

from inventory.netted import Expired, Key, Peg, Policy

Row = tuple[int, int, int, Key, int, int]
Pins = Mapping[Key, Sequence[Peg]]

LOT, RECEIPT, REQUIREMENT, PINNED = 0, 1, 2, 3
ORDER = 2
SOURCES = ("lot", "receipt", "order")
NEVER = 10**9


class Shelf:
    """The stock of one item.

    An entry is [last day, source, key, quantity, where its uses are written]. The heap keeps the next to
    expire in front; an empty entry at the far end spares the test whether anything is left. total is the
    stock less what is lacking, check a day on which to look again.
    """

    def __init__(self, policy: Policy, detail: bool) -> None:
        self.policy, self.detail, self.now = policy, detail, policy.today
        self.earliest = policy.today + policy.lead_days
        self.check = NEVER
        self.total = 0
        self.coming: list[Row] | None = None
        self.heap: list[list] = [[NEVER + 1, 0, 0, 0, None]]
        self.lacks, self.pulled = [], set()
        self.on_hand, self.taken, self.awaited = [], [], []
        self.shortfalls, self.orders, self.sooner, self.expired = [], [], [], []

    def stock(self, rows: Sequence[Row]) -> int:
        """Put the lots on the shelf; returns how many of the rows they are."""
        count, total, today, heap = 0, 0, self.now, self.heap
        uses = self.taken if self.detail else None
        for _, _, kind, key, quantity, last in rows:
            if kind != LOT:
                break
            count += 1
            if quantity > 0 and last and last < today:
                self.expired.append(Expired(key, last + 1, quantity, "lot"))
            elif quantity > 0:
                heap.append([last or NEVER, LOT, key, quantity, uses])
                total += quantity
        heapify(heap)
        self.total = total
        return count

    def put_aside(self, dated: Iterable[Row], pins: Pins) -> list[Row]:
        """Split the pinned parts off needs and lots, where the lot is still good on the day."""
        lots = {entry[2]: entry for entry in self.heap if entry[3]}
        rows = []
        for item, day, kind, key, quantity, last in dated:
            for lot_key, wanted in pins.get(key, ()) if kind == REQUIREMENT else ():
                entry = lots.get(lot_key)
                part = min(wanted, quantity, entry[3]) if entry and entry[0] >= day else 0
                if part:
                    quantity -= part
                    entry[3] -= part
                    rows.append((item, day, PINNED, key, part, lot_key))
            if quantity:
                rows.append((item, day, kind, key, quantity, last))
        self.heap = [entry for entry in self.heap if entry[3] or entry[0] > NEVER]
        heapify(self.heap)
        return rows

    def take_aside(self, key: Key, quantity: int, lot_key: Key) -> int:
        if self.detail:
            self.taken.append((key, lot_key, quantity))
        return quantity

    def arrive(self, day: int, key: Key, quantity: int, last: int) -> int:
        """Put a receipt on the shelf, unless it came sooner; returns what that adds to the stock."""
        if key in self.pulled:
            return 0
        if last and last < day:
            self.expired.append(Expired(key, last + 1, quantity, "receipt"))
            return 0
        uses = self.awaited if self.detail else None
        heappush(self.heap, [last or NEVER, RECEIPT, key, quantity, uses])
        return quantity

    def need(self, key: Key, quantity: int) -> None:
        heap = self.heap
        while quantity:
            front = heap[0]
            part = front[3]
            if quantity < part:
                front[3] -= quantity
                part = quantity
            elif part:
                heappop(heap)
            else:
                self.lacks.append((key, quantity))
                return
            quantity -= part
            if front[4] is not None:
                front[4].append((key, front[2], part))

    def throw_out(self) -> None:
        heap, now = self.heap, self.now
        while heap[0][0] < now:
            last, source, key, quantity, _ = heappop(heap)
            self.total -= quantity
            self.expired.append(Expired(key, last + 1, quantity, SOURCES[source]))
