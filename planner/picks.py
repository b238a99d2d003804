"""What was picked, how much of it was fit to use, and what became of it?"""

import datetime as dt
from collections.abc import Sequence

from django.db import transaction
from django.db.models import Sum
from django.utils import timezone

from inventory import activity, clock, ledger
from inventory.dealing import deal
from inventory.ledger import said
from inventory.locks import lock_items, lock_lots
from inventory.models import Item, Person, StoragePlace
from inventory.refusals import Refusal
from inventory.shown import day_text, quantity_text
from inventory.units import METRIC, Base
from inventory.values import check_columns, check_day
from planner import holding
from planner.models import Patch, Pick, Plant, Share, Weighing
from planner.models.picks import MOST_PICKED
from planner.models.plants import Hazard

# Clocks of two devices differ a little.
SLACK = dt.timedelta(minutes=5)
# Of a pick whose hour nobody wrote down.


@transaction.atomic
def weigh(
    *,
    plant: Plant,
    on: dt.date,
    weighings: Sequence[tuple[int, int]],
    by: Person | None,
    patch: Patch | None = None,
    confirmed: str = "",
    over_cap: str = "",
    note: str = "",
    time: dt.time | None = None,
) -> Pick:
    """Write a pick down by its tubs, (gross, tare) in mg each; atomic, can be undone.

    `time` is when it was picked, of the house's clock; how long it keeps is counted from there.
    Refuses what must not be picked, a serious hazard without the features that were seen, and more
    than the patch's fair share without a reason.
    """
    check_day(on, field="on")
    if on > clock.today():
        raise Refusal(f"{day_text(on)} is still to come.", field="on")
    net = _net(weighings)
    _refuse_hazard(plant, confirmed)
    _refuse_over_cap(patch, on, net, over_cap)
    pick = Pick(plant=plant, patch=patch, day=on, net=net, confirmed=confirmed, note=note, by=by)
    pick.over_cap, pick.mark, pick.at = over_cap, _free_mark(plant, on), _moment(on, time)
    check_columns(pick, ["confirmed", "over_cap", "note"])
    pick.save(force_insert=True)
    Weighing.objects.bulk_create(Weighing(pick=pick, gross=g, tare=t) for g, t in weighings)
    activity.record(
        by=by,
        verb="pick",
        subject=pick,
        summary=f"Picked {_mass(net)} of {plant} ({pick.mark})",
        undo="picks.weigh",
        undo_data={"pick": pick.pk},
    )
    return pick


def _moment(on: dt.date, time: dt.time | None) -> dt.datetime | None:
    if time is None:
        return None
    moment = dt.datetime.combine(on, time, tzinfo=timezone.get_current_timezone())
    if on == timezone.localdate() and moment > timezone.now() + SLACK:
        raise Refusal(f"{time:%H:%M} is still to come.", field="time")
    return moment


def _net(weighings: Sequence[tuple[int, int]]) -> int:
    if not weighings:
        raise Refusal("Weigh at least one tub.", field="gross_1")
    for number, (gross, tare) in enumerate(weighings, start=1):
        if tare >= gross:
            raise Refusal(
                f"A tub of {_mass(tare)} cannot weigh {_mass(gross)} with the pick in it.",
                field=f"tare_{number}",
            )
    net = sum(gross - tare for gross, tare in weighings)
    if net > MOST_PICKED:
        raise Refusal(
            f"{_mass(net)} is more than anybody picks in a day; look at the units.", field="gross_1"
        )
    return net


def _refuse_hazard(plant: Plant, confirmed: str) -> None:
    if plant.must_not_be_used:
        raise Refusal(f"{plant} must not be picked: {plant.legal_note or plant.hazard_text}")
    if plant.hazard_level >= Hazard.SERIOUS and not confirmed.strip():
        raise Refusal(
            f"{plant}: {plant.get_hazard_level_display()}. Write which features you saw that part it "
            "from its look-alikes; in doubt leave it.",
            field="confirmed",
        )


def _refuse_over_cap(patch: Patch | None, on: dt.date, net: int, reason: str) -> None:
    if patch is None or patch.cap is None or reason.strip():
        return
    rows = Pick.objects.filter(patch=patch, day__year=on.year, taken_back=False)
    so_far = rows.aggregate(sum=Sum("net"))["sum"] or 0
    if so_far + net > patch.cap:
        raise Refusal(
            f"{_mass(so_far + net)} of {patch} this year is over its fair share of "
            f"{_mass(patch.cap)}; say why, or leave the rest for others.",
            field="over_cap",
        )


def _free_mark(plant: Plant, on: dt.date) -> str:
    stem = f"{plant.common_name[:2].upper()}-{on:%y%m%d}"
    taken = set(Pick.objects.filter(mark__startswith=stem).values_list("mark", flat=True))
    return next(f"{stem}-{n}" for n in range(1, len(taken) + 2) if f"{stem}-{n}" not in taken)


@transaction.atomic
def sort(*, pick: Pick, left: int, by: Person | None) -> Pick:
    """What is left after stalks, leaves and bad ones are out; never more than was weighed."""
    held = _hold(pick)
    if not 0 <= left <= held.net:
        raise Refusal(
            f"{_mass(held.net)} was weighed; sorting never makes more of it.", field="left"
        )
    given = given_of(held)
    if left < given:
        raise Refusal(f"{_mass(given)} of it has been given away already.", field="left")
    before = held.sorted_out
    held.sorted_out = left
    held.save(update_fields=["sorted_out"])
    activity.record(
        by=by,
        verb="sort",
        subject=held,
        summary=f"Sorted {held}: {_mass(left)} left, {_mass(held.net - left)} lost",
        undo="picks.sort",
        undo_data={"pick": held.pk, "before": before},
    )
    return held


@transaction.atomic
def give(
    *,
    pick: Pick,
    item: Item,
    amount: int,
    by: Person | None,
    place: StoragePlace | None = None,
    meant_for: str = "",
) -> Share:
    """Make a lot of part of a pick; never more than it has. Atomic, can be undone.

    How long it keeps follows from the place: room, fridge or freezer, by the plant's own figures.
    """
    held = _hold(pick)
    left = held.usable - given_of(held)
    if item.base != Base.MG:
        raise Refusal(f"{item} is not kept by weight.", field="item")
    if amount > left:
        raise Refusal(
            f"{_mass(amount)} wanted, {_mass(left)} left of {held.mark}: "
            f"{_mass(amount - left)} short.",
            field="amount",
        )
    lock_items([item.pk])
    until = keeps_until(held, place)
    line = ledger.bring_in(
        item=item,
        quantity=amount,
        on=held.day,
        by=by,
        place=place,
        use_by=None if until is None else holding.last_day(until),
        origin=f"pick {held.mark}",
    )
    deal(items=[item.pk], by=by, locked=True)
    share = Share(pick=held, lot_id=line.lot_id, amount=amount, meant_for=meant_for, until=until)
    check_columns(share, ["meant_for"])
    share.save(force_insert=True)
    activity.record(
        by=by,
        verb="share",
        subject=share,
        summary=f"{said(item, amount)} of {held} put by{f' for {meant_for}' if meant_for else ''}",
        link=held.get_absolute_url(),
        undo="picks.give",
        undo_data={"share": share.pk, "movement": line.pk},
    )
    return share


def given_of(pick: Pick) -> int:
    """What of a pick became lots; one query."""
    rows = pick.shares.filter(taken_back=False)
    return rows.aggregate(sum=Sum("amount"))["sum"] or 0


def keeps_until(pick: Pick, place: StoragePlace | None) -> dt.datetime | None:
    """By the plant's own figures for such a place, in the house's time; none where not known."""
    zone = timezone.get_current_timezone()
    picked = pick.at or clock.noon(pick.day)
    return holding.until(
        picked=picked.astimezone(zone),
        room_days=pick.plant.room_days,
        fridge_days=pick.plant.fridge_days,
        freezer_months=pick.plant.freezer_months,
        warmth_c=None if place is None else place.ordinary_c,
    )


def _hold(pick: Pick) -> Pick:
    held = Pick.objects.select_for_update(of=("self",)).select_related("plant").get(pk=pick.pk)
    if held.taken_back:
        raise Refusal("This pick has been taken back.")
    return held


def _mass(amount: int) -> str:
    return quantity_text(amount, Base.MG, METRIC)


@activity.undoes("picks.weigh")
def _undo_weigh(data: dict, by: Person | None) -> None:
    held = _hold(Pick.objects.get(pk=data["pick"]))
    if given_of(held):
        raise Refusal("Some of it has become a lot; take that back first.")
    Pick.objects.filter(pk=held.pk).update(taken_back=True)


@activity.undoes("picks.sort")
def _undo_sort(data: dict, by: Person | None) -> None:
    held = _hold(Pick.objects.get(pk=data["pick"]))
    before = data["before"]
    if given_of(held) > (held.net if before is None else before):
        raise Refusal("More has been given away than was sorted before.")
    Pick.objects.filter(pk=held.pk).update(sorted_out=before)


@activity.undoes("picks.give")
def _undo_give(data: dict, by: Person | None) -> None:
    share = Share.objects.select_for_update(of=("self",)).get(pk=data["share"])
    lot = lock_lots([share.lot_id])[share.lot_id]
    ledger.write_opposite(lot.movements.get(pk=data["movement"]), by)
    deal(items=[lot.item_id], by=by, locked=True)
    Share.objects.filter(pk=share.pk).update(taken_back=True)
