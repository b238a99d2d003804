"""What of one item will run out, on which day, and what to ask for or order by when?

The rule of time-phased netting, day by day: on hand after = on hand before + receipts + planned receipt
- needs. The net requirement is what the needs lack plus what is then wanting to the safety stock; the
planned receipt is that in whole packs, at least the minimum, on the day itself, and its order day the lead
time earlier. Cases M1 to M7 in `tests/reference/planning_cases` check it.

What the rule leaves open is settled here:
- Stock is used first expired first out, undated stock last; what is past its last day covers nothing.
- Where stock is short and goods are on their way, those are asked for sooner (whole receipts, the next
  one first) before anything is bought.
- A dip into the safety stock hurts nobody. Before the first day on which an order placed today can come it
  is left alone, for what is on its way may end it; from that day on it is ordered for like any need.
- The plan ends with its last dated need or receipt, but not before today's order can come.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from heapq import heappush
from itertools import groupby
from operator import itemgetter

from inventory.netted import (
    Lot,
    Netted,
    PlannedOrder,
    Policy,
    Receipt,
    Requirement,
    Shortfall,
    Sooner,
    Use,
)
from inventory.shelf import LOT, NEVER, ORDER, RECEIPT, REQUIREMENT, Pins, Row, Shelf

# A bar that no stock reaches, so that every day is looked into.
EVERY_DAY = 10**18


class _Plan(Shelf):
    """The days of one item, settled one after the other."""

    def walk(self, dated: Sequence[Row], bar: int) -> None:
        """Live through all dated rows; a day is calm while stock is at the bar and the front entry good."""
        self.dated, self.bar = dated, bar
        heap, detail, on_hand = self.heap, self.detail, self.on_hand
        now, total, front = self.now, self.total, heap[0]
        for _, day, kind, key, quantity, last in dated:
            if day > now:
                if total < bar or front[0] < day:
                    total, bar = self.advance(now, total, day)
                    front = heap[0]
                elif detail:
                    on_hand.append((now, total))
                now = day
            elif day < now:
                raise ValueError("Rows must come in the order of item, day, kind, key.")
            if kind == REQUIREMENT:
                total -= quantity
                if quantity < front[3]:
                    front[3] -= quantity
                    if (uses := front[4]) is not None:
                        uses.append((key, front[2], quantity))
                    continue
                self.need(key, quantity)
            elif kind == RECEIPT:
                total += self.arrive(day, key, quantity, last)
            else:
                total -= self.take_aside(key, quantity, last)
            front = heap[0]
        self.now, self.total = now, total

    def advance(self, now: int, total: int, day: int) -> tuple[int, int]:
        """Settle that day and what happens by itself until the next; returns the total and the bar."""
        self.now, self.total, heap = now, total, self.heap
        self.settle()
        while (event := min(heap[0][0] + 1, self.check)) <= day:
            self.now = event
            self.throw_out()
            if event == self.check:
                self.check = NEVER
            if event == day:
                break
            self.settle()
        return self.total, self.bar if self.check == NEVER else EVERY_DAY

    def settle(self) -> None:
        if self.lacks or self.total < self.policy.safety:
            self.fall_short()
        if self.detail:
            self.on_hand.append((self.now, self.total))

    def fall_short(self) -> None:
        missing = sum([quantity for _, quantity in self.lacks])
        if not missing and self.now < self.earliest:
            self.check = self.earliest
            return
        hurts, self.lacks = tuple(self.lacks), []
        net = missing + max(0, self.policy.safety - self.total - missing)
        rest = self.hasten(net)
        overdue = rest > 0 and self.now < self.earliest
        if rest > 0:
            self.order(rest)
        for key, quantity in hurts:
            self.need(key, quantity)
        advice = "sooner" if rest < net else "overdue" if overdue else "order"
        self.shortfalls.append(Shortfall(self.now, net, missing, hurts, overdue, advice))

    def hasten(self, net: int) -> int:
        """Bring the next receipts forward until net is covered; what stays open must be bought."""
        if self.coming is None:
            self.coming = [row for row in reversed(self.dated) if row[2] == RECEIPT]
        now, coming, policy = self.now, self.coming, self.policy
        while net > 0 and coming:
            _, day, _, key, quantity, last = coming.pop()
            if day <= now or (last and last < now):
                continue
            buy, order_day = policy.lot_size(min(net, quantity)), now - policy.lead_days
            overdue = order_day < policy.today
            self.sooner.append(Sooner(key, day, now, quantity, buy, order_day, overdue))
            self.total += self.arrive(now, key, quantity, last)
            self.pulled.add(key)
            net -= quantity
        return net

    def order(self, net: int) -> None:
        quantity, keeps = self.policy.lot_size(net), self.policy.shelf_days
        last = NEVER if keeps is None else self.now + keeps
        uses: list[Use] = []
        heappush(self.heap, [last, ORDER, len(self.orders), quantity, uses])
        self.total += quantity
        self.orders.append((self.now, quantity, uses))

    def close(self, until: int | None) -> None:
        """Live through the rest of the plan; dated stock left then will pass its date unused."""
        end = max(self.earliest, self.now, until or 0)
        self.advance(self.now, self.total, end + 1)
        self.now = NEVER
        self.throw_out()

    def planned(self, day: int, quantity: int, uses: list[Use]) -> PlannedOrder:
        covers = tuple([(key, part) for key, _, part in uses])
        order_day = day - self.policy.lead_days
        return PlannedOrder(day, order_day, quantity, day < self.earliest, covers)


def _from_today(dated: Sequence[Row], today: int) -> tuple[list, list[Row]]:
    """What is late counts today: the receipts that are, and the rows in the order that follows."""
    late = [(row[3], row[1], row[4]) for row in dated if row[2] == RECEIPT and row[1] < today]
    order = sorted(dated, key=lambda row: (max(row[1], today), row[2], row[1], row[3]))
    return late, [(row[0], max(row[1], today), *row[2:]) for row in order]


def _net(
    rows: Sequence[Row], policy: Policy, *, pins: Pins | None, until: int | None, detail: bool
) -> Netted:
    plan = _Plan(policy, detail)
    dated, late, bar = rows[plan.stock(rows) :], [], policy.safety
    if dated and dated[0][1] < policy.today:
        late, dated = _from_today(dated, policy.today)
    if pins:
        dated, bar = plan.put_aside(dated, pins), EVERY_DAY
    plan.walk(dated, bar)
    plan.close(until)
    orders = [plan.planned(*order) for order in plan.orders]
    found = (plan.on_hand, plan.shortfalls, orders, plan.sooner)
    return Netted(*found, plan.expired, plan.taken, plan.awaited, late)


def net(
    policy: Policy,
    lots: Iterable[Lot] = (),
    receipts: Iterable[Receipt] = (),
    requirements: Iterable[Requirement] = (),
    *,
    until: int | None = None,
    detail: bool = True,
) -> Netted:
    """Net one item; the plan is carried on to `until` at least."""
    needs = list(requirements)
    rows = [(0, 0, LOT, lot.key, lot.quantity, lot.last_day or 0) for lot in lots]
    rows += [(0, r.day, RECEIPT, r.key, r.quantity, r.last_day or 0) for r in receipts]
    rows += [(0, r.day, REQUIREMENT, r.key, r.quantity, 0) for r in needs]
    if any(row[4] < 0 for row in rows):
        raise ValueError("Quantities are 0 or more.")
    pins = {need.key: need.pins for need in needs if need.pins}
    rows = sorted(row for row in rows if row[4])
    return _net(rows, policy, pins=pins, until=until, detail=detail)


def net_all(
    rows: Iterable[Row],
    policies: Mapping[int, Policy],
    *,
    pins: Mapping[int, Pins] | None = None,
    until: int | None = None,
    detail: bool = True,
) -> Iterator[tuple[int, Netted]]:
    """Net many items from one stream of (item, day, kind, key, quantity, last day or 0).

    Rows come in the order of item, day, kind, key, with day 0 for lots; quantities are more than 0, but an
    emptied lot may stand at 0. Only one item's rows are held at a time. Pins are looked up by item, then by
    requirement key. Items of `policies` without any row are answered last.
    """
    pins, without_rows = pins or {}, dict.fromkeys(policies)
    for item, group in groupby(rows, itemgetter(0)):
        policy = policies[item]
        yield item, _net(list(group), policy, pins=pins.get(item), until=until, detail=detail)
        without_rows.pop(item, None)
    for item in without_rows:
        yield item, _net((), policies[item], pins=None, until=until, detail=detail)
