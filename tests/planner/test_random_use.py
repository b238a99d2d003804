"""After five hundred random acts of use, undone ones among them, every rule of the data still holds."""

import datetime as dt
import random

import pytest
from django.db import transaction

from inventory import activity, audit, cellar, glass, ledger, receipts
from inventory.models import Activity, CellarLot, Item, Lot, Receipt
from inventory.refusals import Refusal
from planner import (
    added_steps,
    additions,
    batches,
    book,
    bottling,
    bottling_plan,
    moves,
    occupancies,
    parting,
    readings,
    vessel_choice,
    volumes,
)
from planner.bottling import Done
from planner.bottling_plan import Wish
from planner.models import Batch, Reading, Step
from planner.told import Told
from tests.conftest import KILO, LITRE, PIECE
from tests.planner.glass_world import furnish
from tests.planner.world import damson_version, sugar_line, yeast_line

TODAY = dt.date(2027, 3, 1)
BEGINS = dt.date(2026, 9, 12)
ACTS = 500
MOST_BATCHES = 12


class House:
    """One small house, and the acts that somebody may do in it."""

    def __init__(self, rng, maker, there, version):
        self.rng, self.maker, self.there, self.version = rng, maker, there, version

    def any(self, rows):
        found = list(rows)
        if not found:
            raise Refusal("nothing of that kind is there")
        return self.rng.choice(found)

    def batch(self):
        return self.any(Batch.objects.exclude(state__in=("dropped", "joined")))

    def day(self):
        return BEGINS + dt.timedelta(days=self.rng.randrange((TODAY - BEGINS).days))

    def plan(self):
        if Batch.objects.count() >= MOST_BATCHES:
            raise Refusal("enough for one year")
        batches.plan(
            recipe_version=self.version, volume=self.rng.randint(4, 18) * LITRE, start=self.day(),
            by=self.maker, vessels=self.rng.choice((occupancies.AUTO, None)),
        )  # fmt: skip

    def receive(self):
        item = self.any(Item.objects.filter(kind__in=("ingredient", "yeast")))
        amount = self.rng.randint(1, 6) * (PIECE if item.base == "mpc" else KILO)
        ledger.receive(
            item=item, quantity=amount, on=self.day(), by=self.maker, cost=self.rng.randint(0, 900)
        )

    def expect(self):
        item = self.any(Item.objects.all())
        receipts.expect(item=item, quantity=5 * PIECE, due=TODAY, by=self.maker)

    def arrive(self):
        row = self.any(Receipt.objects.filter(state="expected").select_related("item"))
        receipts.arrive(receipt=row, quantity=row.quantity, on=TODAY, by=self.maker)

    def throw_out(self):
        lot = self.any(Lot.objects.in_stock())
        ledger.throw_out(
            lot=lot,
            quantity=self.rng.randint(1, lot.on_hand),
            on=TODAY,
            by=self.maker,
            reason="mouse",
        )

    def step(self):
        return self.any(Step.objects.filter(state="to_do").select_related("batch", "template"))

    def complete(self):
        volume = self.rng.choice((None, self.rng.randint(1, 18) * LITRE))
        batches.complete_step(
            step=self.step(), on=self.day(), by=self.maker, without=True, remark="as it comes",
            told=Told(volume=volume, must_c=22.0, reason="as it comes"),
        )  # fmt: skip

    def skip(self):
        batches.skip_step(step=self.step(), reason="not wanted", by=self.maker)

    def move(self):
        moves.move_step(step=self.step(), day=self.day(), by=self.maker)

    def add_steps(self):
        added_steps.add_steps(
            batch=self.batch(),
            title="Stir",
            day=self.day(),
            by=self.maker,
            times=self.rng.randint(1, 3),
        )

    def read(self):
        at = dt.datetime.combine(self.day(), dt.time(12), tzinfo=dt.UTC)
        gravity = self.rng.choice((1.085, 1.03, 0.994, 0.994))
        readings.record(batch=self.batch(), kind="gravity", value=gravity, at=at, by=self.maker)

    def strike(self):
        readings.strike(
            reading=self.any(Reading.objects.filter(struck="")), reason="slip", by=self.maker
        )

    def add(self):
        lot = self.any(Lot.objects.filter(item__kind="ingredient").in_stock())
        additions.add(
            batch=self.batch(), lot=lot, amount=self.rng.randint(1, KILO), on=TODAY, by=self.maker,
            purpose="sugar",
        )  # fmt: skip

    def lose(self):
        cause = self.rng.choice(("sample", "lees", "air"))
        volumes.take(
            batch=self.batch(),
            cause=cause,
            amount=self.rng.randint(1, LITRE),
            on=TODAY,
            by=self.maker,
        )

    def pour(self):
        volumes.pour(
            source=self.batch(), target=self.batch(), amount=LITRE, on=TODAY, by=self.maker
        )

    def part(self):
        if Batch.objects.count() >= MOST_BATCHES:
            raise Refusal("enough for one year")
        parting.part(batch=self.batch(), amount=2 * LITRE, name="", on=TODAY, by=self.maker)

    def join(self):
        parting.join(source=self.batch(), target=self.batch(), on=TODAY, by=self.maker)

    def drop(self):
        if self.rng.random() < 0.5:
            batches.drop(batch=self.batch(), by=self.maker)

    def stand(self):
        batch = self.batch()
        found = {
            c.span.first.pk: [o.vessel for o in c.offers[:2]] for c in vessel_choice.choices(batch)
        }
        vessel_choice.choose(batch=batch, chosen=found, by=self.maker)

    def bottle(self):
        """Read it still twice first, so that it may go into glass."""
        batch = self.batch()
        for day, gravity in ((0, 1.085), (60, 0.994), (64, 0.994)):
            at = dt.datetime.combine(batch.start + dt.timedelta(day), dt.time(12), tzinfo=dt.UTC)
            readings.record(batch=batch, kind="gravity", value=gravity, at=at, by=self.maker)
        wish = Wish(aim=self.rng.choice(("biggest", "nothing_left")), place=self.there["stairs"])
        plan = bottling_plan.plan(batch, book.of_batch(batch), wish)
        counts = {
            line.item.pk: self.rng.randint(0, min(line.count, line.clean)) for line in plan.lines
        }
        bottling.bottle(batch=batch, wish=wish, done=Done(counts=counts), on=TODAY, by=self.maker)

    def open(self):
        lot = self.any(CellarLot.objects.all())
        fate = self.rng.choice(("opened", "opened", "given", "burst", "broken"))
        cellar.take(
            lot=lot,
            fate=fate,
            count=1,
            on=TODAY,
            by=self.maker,
            place=self.there["stairs"],
            note="Nan",
        )

    def shift(self):
        lot = self.any(CellarLot.objects.all())
        places = [self.there["stairs"], self.there["sun room"]]
        self.rng.shuffle(places)
        cellar.move(lot=lot, count=1, source=places[0], target=places[1], on=TODAY, by=self.maker)

    def wash(self):
        item = self.there[self.rng.choice(("750", "500", "330"))]
        glass.wash_all(counts={item.pk: 1}, on=TODAY, by=self.maker)

    def undo(self):
        recent = Activity.objects.exclude(undo="").filter(undone_by=None)[:12]
        activity.undo(activity=self.any(recent), by=self.maker)


NAMES = [
    name
    for name in vars(House)
    if not name.startswith("_") and name not in ("any", "batch", "day", "step")
]


@pytest.mark.parametrize("seed", [1, 2])
def test_every_rule_holds_after_random_use(seed, maker, sugar, yeast, bucket, jar, settings, house):
    settings.PRETEND_TODAY = TODAY
    version = damson_version(maker, [sugar_line(sugar), yeast_line(yeast)])
    rng = random.Random(seed)
    house = House(rng, maker, furnish(), version)
    done = dict.fromkeys(NAMES, 0)

    for number in range(ACTS):
        name = rng.choice(NAMES)
        try:
            with transaction.atomic():
                getattr(house, name)()
        except Refusal:
            continue
        done[name] += 1
        if number % 50 == 0:
            assert [found for found in audit.findings() if found.grave] == [], (number, name)

    assert [found for found in audit.findings() if found.grave] == []
    assert sum(done.values()) >= 150
    assert len([name for name in NAMES if done[name]]) >= 15, done
