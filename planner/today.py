"""What asks for something today and this week, from steps, shelves, orders and the hedge?"""

import datetime as dt
from dataclasses import dataclass

from django.db.models import Max, Q
from django.utils import timezone

from inventory import shopping
from inventory.models import Household, Item, Lot
from planner import cellar_view, harvest, occupancies
from planner.models import Batch, ReadingKind, Recipe, Step

WEEK = dt.timedelta(days=7)
FORTNIGHT = dt.timedelta(days=14)
# How often a gravity is read: in its lively weeks, and after. Common practice, no source.
LIVELY, EVERY_LIVELY, EVERY_QUIET = FORTNIGHT, dt.timedelta(days=3), dt.timedelta(days=14)
AT_WORK = (Batch.State.WORKING,)
# So near its end the hour of a pick is said, not only the day.
HOURS_COUNT = dt.timedelta(days=3)


@dataclass(frozen=True)
class Day:
    """Everything that Today shows; a fixed number of queries whatever the size of the house."""

    today: dt.date
    overdue: list[Step]
    due: list[Step]
    this_week: list[Step]
    orders: list
    use_soon: list[Lot]
    conflicts: list[occupancies.Conflict]
    readings: list[Batch]
    cellar: list
    windows: list
    other_windows: int
    empty: bool

    @property
    def step_groups(self) -> list[tuple[str, list[Step]]]:
        return [("Overdue", self.overdue), ("To do today", self.due), ("This week", self.this_week)]


def day_of(*, house: Household, today: dt.date) -> Day:
    steps = list(
        Step.objects.filter(state=Step.State.TO_DO, day__lte=today + WEEK)
        .select_related("batch")
        .order_by("day", "batch__name", "place")
    )
    own, others = _windows(house, today)
    return Day(
        today=today,
        overdue=[step for step in steps if step.day < today],
        due=[step for step in steps if step.day == today],
        this_week=[step for step in steps if step.day > today],
        orders=shopping.due_orders(today=today, until=today + FORTNIGHT),
        use_soon=_use_soon(today),
        conflicts=[one for one in occupancies.conflicts() if one.ends > today],
        readings=_readings_wanted(today),
        cellar=_from_the_cellar(today),
        windows=own,
        other_windows=len(others),
        empty=not steps and _has_nothing(),
    )


def _use_soon(today: dt.date) -> list[Lot]:
    """What is near its date; a pick near its hour carries it as `hour`."""
    rows = Lot.objects.in_stock().filter(use_by__lte=today + FORTNIGHT)
    lots = list(rows.select_related("item", "place", "pick_share").order_by("use_by", "id"))
    for lot in lots:
        until = lot.pick_share.until if hasattr(lot, "pick_share") else None
        lot.hour = until if until and lot.use_by <= today + HOURS_COUNT else None
    return lots


def _readings_wanted(today: dt.date) -> list[Batch]:
    """Batches at work whose gravity nobody has read for days, each with the day as `last_read`."""
    good = Q(readings__kind=ReadingKind.GRAVITY, readings__struck="")
    rows = Batch.objects.filter(state__in=AT_WORK).annotate(
        last_read=Max("readings__at", filter=good)
    )
    found = []
    for batch in rows.order_by("start", "pk"):
        read = batch.last_read and timezone.localtime(batch.last_read).date()
        batch.last_read = read
        young = today - batch.start <= LIVELY
        if today - (read or batch.start) >= (EVERY_LIVELY if young else EVERY_QUIET):
            found.append(batch)
    return found


def _from_the_cellar(today: dt.date) -> list[cellar_view.Held]:
    """What presses too hard or is flagged, and of each drink to be tested the bottle to try."""
    found = cellar_view.held(today=today)
    grave = [held for held in found if held.word == cellar_view.BEWARE or held.hazards]
    tests = {
        held.lot.origin: cellar_view.smallest(found, held.lot.origin)
        for held in found
        if held.word == cellar_view.TEST
    }
    return [*grave, *(held for held in tests.values() if held not in grave)]


def _windows(house: Household, today: dt.date) -> tuple[list, list]:
    """Open and showing windows: those of plants the house's items know, and the rest."""
    open_or_near = [
        window
        for window in harvest.windows(house=house, on=today)
        if window.state in (*harvest.OPEN_STATES, harvest.WindowState.SHOWING)
    ]
    own = [window for window in open_or_near if window.plant.item_id]
    return own, [window for window in open_or_near if not window.plant.item_id]


def _has_nothing() -> bool:
    return not (Batch.objects.exists() or Recipe.objects.exists() or Item.objects.exists())
