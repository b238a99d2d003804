"""Volume is conserved in every sequence of making, taking, pouring, parting and taking back."""

import datetime as dt

from django.db import transaction
from hypothesis import HealthCheck, settings
from hypothesis import strategies as st
from hypothesis.stateful import (
    RuleBasedStateMachine,
    initialize,
    invariant,
    precondition,
    rule,
    run_state_machine_as_test,
)

from inventory import activity, household
from inventory.models import Activity
from inventory.refusals import Refusal
from planner import batches, parting, volumes
from planner.models import Batch, Transfer
from tests.planner.world import LITRE, SATURDAY, damson_version

LATER = SATURDAY + dt.timedelta(days=40)
AMOUNTS = st.integers(min_value=1, max_value=25 * LITRE)
LOSSES = ("sample", "cake", "lees", "hose", "air", "spilt")


class Cellar(RuleBasedStateMachine):
    """Three batches and a book of our own beside the ledger."""

    def __init__(self):
        super().__init__()
        self.whole = transaction.atomic()
        self.whole.__enter__()

    def teardown(self):
        transaction.set_rollback(True)
        self.whole.__exit__(None, None, None)

    @initialize()
    def begin(self):
        household.settle(
            name="Skelder Fold",
            time_zone="Europe/London",
            country="GB",
            latitude_thousandths=54_400,
            height_m=180,
        )
        version = damson_version(None)
        self.batches = [
            batches.plan(recipe_version=version, volume=n * LITRE, start=SATURDAY, by=None)
            for n in (18, 9, 4)
        ]
        self.there: dict[int, int] = {}
        for batch in self.batches:
            volumes.begin(batch=batch, volume=batch.volume, on=SATURDAY, by=None)
            self.there[batch.pk] = batch.volume
        self.made, self.lost = 31 * LITRE, 0
        self.ended: set[int] = set()
        self.last: list[tuple[int, dict, int, int]] = []

    def _pick(self, n: int) -> Batch:
        return Batch.objects.get(pk=self.batches[n % len(self.batches)].pk)

    def _try(self, act, change) -> None:
        """Our book follows only where the house did it; a refusal changes nothing."""
        before = (dict(self.there), self.made, self.lost, set(self.ended))
        try:
            found = act()
        except Refusal:
            return
        change(found)
        self.last.append((Activity.objects.latest("pk").pk, *before))

    @rule(n=st.integers(0, 9), cause=st.sampled_from(LOSSES), amount=AMOUNTS)
    def take(self, n, cause, amount):
        batch = self._pick(n)

        def change(_):
            self.there[batch.pk] -= amount
            self.lost += amount

        self._try(
            lambda: volumes.take(batch=batch, cause=cause, amount=amount, on=LATER, by=None), change
        )

    @rule(n=st.integers(0, 9), amount=AMOUNTS)
    def top_up(self, n, amount):
        batch = self._pick(n)

        def change(_):
            self.there[batch.pk] += amount
            self.made += amount

        self._try(
            lambda: volumes.put(batch=batch, cause="topped", amount=amount, on=LATER, by=None),
            change,
        )

    @rule(n=st.integers(0, 9), m=st.integers(0, 9), amount=AMOUNTS)
    def pour(self, n, m, amount):
        first, second = self._pick(n), self._pick(m)

        def change(_):
            self.there[first.pk] -= amount
            self.there[second.pk] += amount

        self._try(
            lambda: volumes.pour(source=first, target=second, amount=amount, on=LATER, by=None),
            change,
        )

    @rule(n=st.integers(0, 9), amount=AMOUNTS)
    def part(self, n, amount):
        batch = self._pick(n)

        def change(child):
            self.batches.append(child)
            self.there[batch.pk] -= amount
            self.there[child.pk] = amount

        self._try(
            lambda: parting.part(batch=batch, amount=amount, name="", on=LATER, by=None), change
        )

    @rule(n=st.integers(0, 9), m=st.integers(0, 9))
    def join(self, n, m):
        first, second = self._pick(n), self._pick(m)

        def change(_):
            self.there[second.pk] += self.there[first.pk]
            self.there[first.pk] = 0
            self.ended.add(first.pk)

        self._try(lambda: parting.join(source=first, target=second, on=LATER, by=None), change)

    @precondition(lambda self: self.last)
    @rule()
    def take_the_last_back(self):
        key, there, made, lost, ended = self.last.pop()
        activity.undo(activity=Activity.objects.get(pk=key), by=None)
        # A part that was taken back stays as a dropped batch that holds nothing.
        self.there = dict.fromkeys(self.there, 0) | there
        self.made, self.lost, self.ended = made, lost, ended

    @invariant()
    def the_ledger_says_what_our_book_says(self):
        if not hasattr(self, "there"):
            return
        found = volumes.of_batches(self.batches)
        assert {key: found[key].amount for key in self.there} == self.there
        assert sum(self.there.values()) == self.made - self.lost
        assert min(self.there.values()) >= 0

    @invariant()
    def what_goes_between_batches_sums_to_nothing(self):
        between = Transfer.objects.filter(cause__in=("parted", "poured_in"))
        assert sum(between.values_list("change", flat=True)) == 0


def test_volume_is_conserved(db):
    run_state_machine_as_test(
        Cellar,
        settings=settings(
            max_examples=20,
            stateful_step_count=15,
            deadline=None,
            suppress_health_check=list(HealthCheck),
        ),
    )
