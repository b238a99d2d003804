"""May the must be made, and may the yeast go in? Gathers the facts for the gates before the wine."""

import datetime as dt
from collections.abc import Iterable

from django.db.models import Q
from django.utils import timezone

from inventory import clock
from inventory.models import Item, Lot, Requirement, Reservation
from inventory.models.items import Kind
from inventory.models.vessels import VesselKind
from planner import compositions, dose_gate, gates
from planner.chemistry.sums import bounds
from planner.models import Batch, Occupancy, Plant, Purpose, Reading, Step
from planner.models.book import ReadingKind
from planner.occupancies import FOAM_SHARE
from planner.told import Told

UL_PER_L = 1_000_000
# A cake whose size nobody wrote down: a litre a kilogram is the most there can be.
MOST_CAKE_L_PER_KG = 1.0


def of_step(step: Step, *, kinds: Iterable[str], on: dt.date, told: Told) -> list[gates.Verdict]:
    """Identity, hold clock, start and yeast in, as far as they concern the step.

    At most eight queries.
    """
    needs = list(
        Requirement.objects.filter(step_need__step=step, state=Requirement.State.OPEN)
        .select_related("item")
        .order_by("pk")
    )
    lots = _promised(needs)
    found = [_identity(plant, lots, told) for plant in _plants(needs)]
    if lots:
        found.append(gates.hold(lots=[(lot.mark, lot.use_by) for lot in lots], on=on))
    if _is_begun_in_a_vessel(step):
        found += _start(step, needs)
    if Kind.YEAST in kinds:
        found.append(_yeast_in(step.batch, needs, on, told))
    return found


def _promised(needs: list[Requirement]) -> list[Lot]:
    keys = Reservation.objects.filter(requirement__in=needs).values("lot")
    rows = Lot.objects.filter(pk__in=keys).select_related("pick_share__pick")
    return list(rows.order_by("pk"))


def _plants(needs: list[Requirement]) -> list[Plant]:
    """Those of them that have a dangerous likeness or must not be used."""
    items = [need.item_id for need in needs if need.item.kind == Kind.FORAGED]
    if not items:
        return []
    rows = Plant.objects.filter(item__in=items).order_by("common_name")
    return [plant for plant in rows if plant.opens_with_caution]


def _identity(plant: Plant, lots: list[Lot], told: Told) -> gates.Verdict:
    """Told with the step, or with every pick that its lots come from."""
    own = [lot for lot in lots if lot.item_id == plant.item_id]
    picks = [lot.pick_share.pick for lot in own if hasattr(lot, "pick_share")]
    seen = bool(own) and len(picks) == len(own) and all(pick.confirmed for pick in picks)
    return gates.identity(
        plant=plant.common_name,
        hazard_level=plant.hazard_level,
        confirmed=seen or bool(told.confirmed.strip()),
        banned=plant.must_not_be_used,
    )


def _is_begun_in_a_vessel(step: Step) -> bool:
    return bool(
        step.template
        and step.template.vessel_wanted == VesselKind.OPEN
        and not Step.objects.filter(batch=step.batch_id, place__lt=step.place).exists()
    )


def _start(step: Step, needs: list[Requirement]) -> list[gates.Verdict]:
    """Whether it fits under the foam and the vessel is free; silent where none is booked."""
    uses = list(
        Occupancy.objects.filter(batch=step.batch_id, first_step=step).select_related("vessel")
    )
    if not uses:
        return []
    vessels = [use.vessel for use in uses]
    others = Q(begins__lt=max(use.ends for use in uses), ends__gt=min(use.begins for use in uses))
    taken = Occupancy.objects.filter(others, vessel__in=vessels).exclude(batch=step.batch_id)
    room = sum(vessel.brimful for vessel in vessels) * (1 - FOAM_SHARE) / UL_PER_L
    name = " and ".join(vessel.name for vessel in vessels)
    least, most = room_wanted_l(step.batch, needs)
    found = gates.start(
        missing=(), vessel=name, usable_l=room, wanted_l=least, is_free=not taken.exists()
    )
    if least <= room < most:
        words = (
            f"with its fruit it may want up to {most:.1f} L: {name} takes {room:.1f} L under its "
            "foam room"
        )
        ways = ("a larger vessel", "write down what a kilogram of the fruit takes up")
        return [found, gates.Verdict("start", (gates.Reason(gates.LOOK_AGAIN, words, ways),))]
    return [found]


def room_wanted_l(batch: Batch, needs: Iterable[Requirement]) -> tuple[float, float]:
    """Least and most litres of the must with the fruit in it."""
    fruit = [need for need in needs if need.item.kind == Kind.FORAGED]
    own = compositions.by_item([need.item_id for need in fruit])
    least = most = batch.volume / UL_PER_L
    for need in fruit:
        mass = compositions.mass_kg(need.item, need.quantity, own.get(need.item_id))
        if not mass.is_known:
            continue
        part = compositions.ingredient(need.item, mass.value, own.get(need.item_id))
        low, high = bounds(part.cake)
        least += mass.value * (low or 0.0)
        most += mass.value * (MOST_CAKE_L_PER_KG if high is None else high)
    return least, most


def _yeast_in(batch: Batch, needs: list[Requirement], on: dt.date, told: Told) -> gates.Verdict:
    yeasts = [need.item for need in needs if need.item.kind == Kind.YEAST]
    low, high = warmth_of(yeasts)
    return gates.yeast_in(
        must_c=told.must_c if told.must_c is not None else _read_that_day(batch, on),
        yeast_low_c=low,
        yeast_high_c=high,
        sulphite_hours_ago=_sulphite_hours_ago(batch, on),
    )


def warmth_of(yeasts: Iterable[Item]) -> tuple[int | None, int | None]:
    """The span that suits all of them; none where it is not known."""
    yeasts = list(yeasts)
    lows = [yeast.coolest_c for yeast in yeasts if yeast.coolest_c is not None]
    highs = [yeast.warmest_c for yeast in yeasts if yeast.warmest_c is not None]
    return max(lows, default=None), min(highs, default=None)


def _read_that_day(batch: Batch, on: dt.date) -> float | None:
    """The last temperature of the must that was read on a day."""
    kinds = (ReadingKind.TEMPERATURE, ReadingKind.GRAVITY)
    rows = Reading.objects.filter(batch=batch, kind__in=kinds, struck="", at__date=on)
    for row in rows.order_by("-at", "-pk"):
        if row.kind == ReadingKind.TEMPERATURE:
            return row.number
        if row.temperature is not None:
            return row.temperature / 1000
    return None


def _sulphite_hours_ago(batch: Batch, on: dt.date) -> float | None:
    """Since the last sulphite; of one written down afterwards from noon of its day."""
    now = clock.moment(on)
    rows = [one for one in dose_gate.given(batch, Purpose.SULPHITE) if one.day <= on]
    if not rows:
        return None
    last = rows[-1]
    written = timezone.localtime(last.recorded_at)
    given = written if written.date() == last.day else clock.noon(last.day)
    return max(0.0, (now - given).total_seconds() / 3600)
