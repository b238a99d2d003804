"""Netting against a plain simulation that walks every single day and looks at every single lot."""

from collections import Counter
from dataclasses import dataclass, field, replace

from hypothesis import given, settings
from hypothesis import strategies as st

from inventory.netted import Lot, Policy, Receipt, Requirement
from inventory.netting import net, net_all

TODAY, END = 1000, 1030
FOREVER = 10**6


@dataclass
class Heap:
    """Something usable: source rank, key, quantity left, last day, and quantity promised by need."""

    rank: int
    key: int
    left: int
    last: int
    promised: Counter = field(default_factory=Counter)

    def free(self, need_key):
        return self.left - sum(q for key, q in self.promised.items() if key != need_key)


@dataclass
class Told:
    on_hand: dict
    short: list = field(default_factory=list)
    bought: list = field(default_factory=list)
    pulled: list = field(default_factory=list)
    uses: Counter = field(default_factory=Counter)


def promise(heaps, needs):
    for need in needs:
        open_part = need.quantity
        for lot_key, wanted in need.pins:
            heap = next((h for h in heaps if h.key == lot_key and h.last >= need.day), None)
            if heap is None:
                continue
            part = min(wanted, open_part, heap.left - sum(heap.promised.values()))
            heap.promised[need.key] += part
            open_part -= part


def use(heaps, need_key, quantity, told):
    """First what is promised to this need, then first expired first out; returns what is lacking."""
    for heap in [h for h in heaps if h.promised[need_key]]:
        part = heap.promised.pop(need_key)
        heap.left -= part
        quantity -= part
        told.uses[need_key, heap.rank, heap.key] += part
    for heap in sorted(heaps, key=lambda h: (h.last, h.rank, h.key)):
        part = min(quantity, heap.free(need_key))
        heap.left -= part
        quantity -= part
        told.uses[need_key, heap.rank, heap.key] += part
    return quantity


def simulate(policy, lots, receipts, requirements):
    receipts = sorted((replace(r, day=max(r.day, TODAY)) for r in receipts), key=lambda r: r.day)
    needs = sorted(requirements, key=lambda n: (max(n.day, TODAY), n.day, n.key))
    needs = [replace(n, day=max(n.day, TODAY)) for n in needs]
    heaps = [Heap(0, lot.key, lot.quantity, lot.last_day or FOREVER) for lot in lots]
    heaps = [heap for heap in heaps if heap.last >= TODAY]
    promise(heaps, needs)
    told, waiting = Told({}), list(receipts)
    can_come = TODAY + policy.lead_days
    for day in range(TODAY, max([can_come, *(x.day for x in receipts + needs)]) + 1):
        heaps = [heap for heap in heaps if heap.last >= day]
        arrived = [r for r in waiting if r.day == day]
        waiting = [r for r in waiting if r.day != day]
        heaps += [came(r) for r in arrived if came(r).last >= day]
        lacks = [(n.key, use(heaps, n.key, n.quantity, told)) for n in needs if n.day == day]
        missing = sum(lack for _, lack in lacks)
        wanting = missing + max(0, policy.safety - sum(heap.left for heap in heaps))
        if missing or (wanting and day >= can_come):
            told.short.append((day, wanting, missing))
            waiting = supply(policy, day, wanting, heaps, waiting, told)
            for key, lack in lacks:
                assert use(heaps, key, lack, told) == 0
        told.on_hand[day] = sum(heap.left for heap in heaps)
    return told


def came(receipt):
    return Heap(1, receipt.key, receipt.quantity, receipt.last_day or FOREVER)


def supply(policy, day, wanting, heaps, waiting, told):
    for receipt in list(waiting):
        if wanting > 0 and came(receipt).last >= day:
            heaps.append(came(receipt))
            waiting = [r for r in waiting if r is not receipt]
            wanting -= receipt.quantity
            told.pulled.append((receipt.key, day))
    if wanting > 0:
        quantity = max(wanting, policy.minimum)
        while quantity % policy.pack:
            quantity += 1
        keeps = FOREVER if policy.shelf_days is None else day + policy.shelf_days
        heaps.append(Heap(2, len(told.bought), quantity, keeps))
        told.bought.append((day, day - policy.lead_days, quantity))
    return waiting


quantities = st.integers(1, 20)
last_days = st.none() | st.integers(TODAY - 5, END + 5)
days = st.integers(TODAY - 5, END)
pins = st.lists(st.tuples(st.integers(0, 5), quantities), max_size=2)
policies = st.builds(
    Policy,
    today=st.just(TODAY),
    lead_days=st.integers(0, 12),
    pack=st.integers(1, 9),
    minimum=st.integers(0, 15),
    safety=st.just(0) | st.integers(0, 12),
    shelf_days=st.none() | st.integers(0, 15),
)


def keyed(rows, kind):
    return [kind(key, *row) for key, row in enumerate(rows)]


houses = st.tuples(
    policies,
    st.lists(st.tuples(quantities, last_days), max_size=5).map(lambda r: keyed(r, Lot)),
    st.lists(st.tuples(days, quantities, last_days), max_size=4).map(lambda r: keyed(r, Receipt)),
    st.lists(st.tuples(days, quantities, pins.map(tuple)), max_size=8).map(
        lambda r: keyed(r, Requirement)
    ),
)


def uses_of(netted):
    uses = Counter()
    for rank, listed in enumerate((netted.taken, netted.awaited)):
        for need_key, key, quantity in listed:
            uses[need_key, rank, key] += quantity
    for number, order in enumerate(netted.orders):
        for need_key, quantity in order.covers:
            uses[need_key, 2, number] += quantity
    return uses


def every_day(series, last):
    known = dict(series)
    held, filled = 0, {}
    for day in range(TODAY, last + 1):
        held = known.get(day, held)
        filled[day] = held
    return filled


@settings(max_examples=400, deadline=None)
@given(houses)
def test_netting_agrees_with_walking_day_by_day(house):
    told = simulate(*house)

    netted = net(*house)

    assert [(s.day, s.quantity, s.missing) for s in netted.shortfalls] == told.short
    assert [(o.arrive_day, o.order_day, o.quantity) for o in netted.orders] == told.bought
    assert [(s.receipt_key, s.to_day) for s in netted.sooner] == told.pulled
    assert uses_of(netted) == +told.uses
    assert every_day(netted.on_hand, max(told.on_hand)) == told.on_hand


@settings(max_examples=200, deadline=None)
@given(houses)
def test_nothing_is_lost_between_start_and_end(house):
    _, lots, receipts, requirements = house

    netted = net(*house)

    last_day, held = netted.on_hand[-1]
    came_in = sum(x.quantity for x in lots + receipts) + sum(o.quantity for o in netted.orders)
    went = sum(n.quantity for n in requirements)
    passed = sum(e.quantity for e in netted.expired if e.day <= last_day)
    assert held == came_in - went - passed


@settings(max_examples=200, deadline=None)
@given(houses)
def test_every_need_is_covered_in_full_by_something_still_good(house):
    _, lots, _, requirements = house

    netted = net(*house)

    covered = Counter()
    for (need_key, _, _), quantity in uses_of(netted).items():
        covered[need_key] += quantity
    assert covered == Counter({n.key: n.quantity for n in requirements})
    last_days = {lot.key: lot.last_day or FOREVER for lot in lots}
    need_days = {n.key: max(n.day, TODAY) for n in requirements}
    assert all(last_days[lot] >= need_days[need] for need, lot, _ in netted.taken)


@settings(max_examples=200, deadline=None)
@given(houses, quantities)
def test_more_stock_never_makes_the_first_shortfall_earlier_or_larger(house, quantity):
    policy, lots, receipts, requirements = house
    before = net(*house).shortfalls

    after = net(policy, [*lots, Lot(99, quantity)], receipts, requirements).shortfalls

    first = (FOREVER, 0) if not before else (before[0].day, -before[0].quantity)
    assert not after or (after[0].day, -after[0].quantity) >= first


@settings(max_examples=100, deadline=None)
@given(houses)
def test_netting_again_with_the_orders_on_their_way_finds_nothing_short(house):
    policy, lots, receipts, requirements = house
    netted = net(*house)
    shelf = FOREVER if policy.shelf_days is None else policy.shelf_days
    earlier = {s.receipt_key: s.to_day for s in netted.sooner}
    placed = [replace(r, day=earlier.get(r.key, r.day)) for r in receipts]
    placed += [
        Receipt(100 + n, o.arrive_day, o.quantity, min(o.arrive_day + shelf, FOREVER))
        for n, o in enumerate(netted.orders)
    ]

    assert net(policy, lots, placed, requirements).shortfalls == []


@settings(max_examples=100, deadline=None)
@given(st.lists(houses, min_size=1, max_size=3))
def test_one_stream_of_many_items_answers_as_each_item_alone(several):
    rows, put_aside = [], {}
    for item, (_, lots, receipts, requirements) in enumerate(several):
        rows += [(item, 0, 0, x.key, x.quantity, x.last_day or 0) for x in lots]
        rows += [(item, x.day, 1, x.key, x.quantity, x.last_day or 0) for x in receipts]
        rows += [(item, x.day, 2, x.key, x.quantity, 0) for x in requirements]
        put_aside[item] = {x.key: x.pins for x in requirements if x.pins}

    answers = dict(net_all(sorted(rows), dict(enumerate(h[0] for h in several)), pins=put_aside))

    assert answers == {item: net(*house) for item, house in enumerate(several)}
