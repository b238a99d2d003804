"""What of one item will run out, on which day, and what to ask for or order by when?

Days are date ordinals, quantities whole thousandths. The rule of time-phased netting, day by day:
on hand after = on hand before + receipts + planned receipt - needs; the net requirement is what the needs
lack plus what is then wanting to the safety stock; the planned receipt is that, rounded up to packs and at
least the minimum, on the day itself; its order day is the lead time earlier. Cases M1 to M7 in
`tests/reference/planning_cases` check it.

Four things the rule leaves open are settled here:
- Stock is used first expired first out, undated stock last; what is past its last day covers nothing.
- Where needs are short and goods are on their way, those are asked for sooner (whole receipts, the next
  one first) before anything is bought.
- A dip into the safety stock hurts nobody. Before the first day on which an order placed today can come it
  is left alone, for what is on its way may end it first; from that day on it is ordered for like any need.
- The plan ends with its last dated need or receipt, but not before today's order can come.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from typing import NamedTuple

Key = int | str
Peg = tuple[Key, int]
Row = tuple[int, int, int, Key, int, int]

LOT, RECEIPT, REQUIREMENT = 0, 1, 2
SOURCES = ("lot", "receipt", "order")
ORDER = 2
NEVER = 10**9


@dataclass(frozen=True, slots=True)
class Lot:
    """A quantity in the house; last_day is the last day on which it may be used, None if it keeps."""

    key: Key
    quantity: int
    last_day: int | None = None


@dataclass(frozen=True, slots=True)
class Receipt:
    """Goods on their way."""

    key: Key
    day: int
    quantity: int
    last_day: int | None = None


@dataclass(frozen=True, slots=True)
class Requirement:
    """A dated need; pins are the (lot key, quantity) put aside for it by hand."""

    key: Key
    day: int
    quantity: int
    pins: tuple[Peg, ...] = ()


@dataclass(frozen=True, slots=True)
class Policy:
    """How one item is bought and kept; shelf_days is how long goods not yet ordered will keep."""

    today: int
    lead_days: int = 0
    pack: int = 1
    minimum: int = 0
    safety: int = 0
    shelf_days: int | None = None

    def __post_init__(self) -> None:
        if self.pack < 1:
            raise ValueError(f"A pack holds 1 or more, not {self.pack}.")
        if min(self.lead_days, self.minimum, self.safety, self.shelf_days or 0) < 0:
            raise ValueError("Lead time, minimum, safety stock and shelf life are 0 or more.")

    def lot_size(self, net: int) -> int:
        """Quantity to buy for a net requirement: whole packs, at least the minimum."""
        return -(-max(net, self.minimum) // self.pack) * self.pack


class Expired(NamedTuple):
    """Stock that goes unused past its date: day is the first on which it may no longer be used."""

    key: Key
    day: int
    quantity: int
    source: str


@dataclass(frozen=True, slots=True)
class Shortfall:
    """Net requirement of one day; missing is the part that needs lack, the rest is safety stock."""

    day: int
    quantity: int
    missing: int
    hurts: tuple[Peg, ...]
    overdue: bool
    advice: str


@dataclass(frozen=True, slots=True)
class PlannedOrder:
    """To be ordered by order_day; covers are the needs that will use it, as (requirement key, quantity)."""

    arrive_day: int
    order_day: int
    quantity: int
    overdue: bool
    covers: tuple[Peg, ...]


@dataclass(frozen=True, slots=True)
class Sooner:
    """A receipt to be asked for earlier, and what to buy (by order_day) for the same need if it cannot."""

    receipt_key: Key
    from_day: int
    to_day: int
    quantity: int
    buy: int
    order_day: int
    overdue: bool


@dataclass(frozen=True, slots=True)
class Netted:
    """The answer for one item; without detail on_hand, taken, awaited and every covers stay empty.

    taken is (requirement key, lot key, quantity) for what lots in the house cover, awaited the same with
    receipt keys for what is on its way, late_receipts (key, day, quantity) of those that should be here.
    """

    on_hand: list[tuple[int, int]]
    shortfalls: list[Shortfall]
    orders: list[PlannedOrder]
    sooner: list[Sooner]
    expired: list[Expired]
    taken: list[tuple[Key, Key, int]]
    awaited: list[tuple[Key, Key, int]]
    late_receipts: list[tuple[Key, int, int]]


class _Shelf:
    """The stock of one item on its way through the days.

    An entry is [last day, source, key, quantity, where its uses are written]. The heap keeps the next to
    expire in front; an empty entry at the far end spares the test whether anything is left.
    """

    __slots__ = (
        "awaited", "check", "coming", "detail", "earliest", "expired", "heap", "lacks", "now", "on_hand",
        "orders", "policy", "pulled", "rows", "safety", "shortfalls", "sooner", "taken", "total",
    )  # fmt: skip

    def __init__(self, policy: Policy, rows: Sequence[Row], detail: bool) -> None:
        self.policy = policy
        self.rows = rows
        self.detail = detail
        self.safety = policy.safety
        self.now = policy.today
        self.earliest = policy.today + policy.lead_days
        self.check = NEVER
        self.heap: list[list] = [[NEVER + 1, 0, 0, 0, None]]
        self.total = 0
        self.lacks: list[Peg] = []
        self.coming: list[Row] | None = None
        self.pulled: set[Key] = set()
        self.on_hand, self.taken, self.awaited = [], [], []
        self.shortfalls, self.orders, self.sooner, self.expired = [], [], [], []

    def stock(self, lots: Iterable[Row]) -> None:
        for _, _, _, key, quantity, last in lots:
            if last and last < self.now:
                self.expired.append(Expired(key, last + 1, quantity, "lot"))
            elif quantity:
                self.heap.append([last or NEVER, LOT, key, quantity, self.taken])
                self.total += quantity

    def put_aside(self, dated: Iterable[Row], pins: Mapping[Key, Sequence[Peg]]) -> dict:
        """Take the pinned parts off the lots, for as long as the lot is still good on the day."""
        lots = {entry[2]: entry for entry in self.heap if entry[4] is not None}
        aside = {}
        for _, day, kind, key, quantity, _ in dated:
            for lot_key, wanted in pins.get(key, ()) if kind == REQUIREMENT else ():
                entry = lots.get(lot_key)
                if entry is None or entry[0] < day:
                    continue
                part = min(wanted, quantity, entry[3])
                quantity -= part
                entry[3] -= part
                if part:
                    aside.setdefault(key, []).append((lot_key, part))
        self.heap = [entry for entry in self.heap if entry[3] or entry[4] is None]
        return aside
