"""What netting is asked and what it answers; days are date ordinals, quantities whole thousandths."""

from dataclasses import dataclass
from typing import NamedTuple

Key = int | str
Peg = tuple[Key, int]
Use = tuple[Key, Key, int]


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


class Shortfall(NamedTuple):
    """Net requirement of one day; missing is the part that needs lack, the rest is safety stock."""

    day: int
    quantity: int
    missing: int
    hurts: tuple[Peg, ...]
    overdue: bool
    advice: str


class PlannedOrder(NamedTuple):
    """To be ordered by order_day; covers are the needs that will use it, (requirement key, quantity)."""

    arrive_day: int
    order_day: int
    quantity: int
    overdue: bool
    covers: tuple[Peg, ...]


class Sooner(NamedTuple):
    """A receipt to be asked for earlier, and what to buy (by order_day) for the same need if it cannot."""

    receipt_key: Key
    from_day: int
    to_day: int
    quantity: int
    buy: int
    order_day: int
    overdue: bool


class Netted(NamedTuple):
    """The answer for one item; without detail on_hand, taken and awaited stay empty.

    taken is (requirement key, lot key, quantity) for what lots in the house cover, awaited the same with
    receipt keys for what is on its way, late_receipts (key, day, quantity) of those that should be here.
    """

    on_hand: list[tuple[int, int]]
    shortfalls: list[Shortfall]
    orders: list[PlannedOrder]
    sooner: list[Sooner]
    expired: list[Expired]
    taken: list[Use]
    awaited: list[Use]
    late_receipts: list[tuple[Key, int, int]]
