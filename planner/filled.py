"""What was really filled on a bottling day: may it be so, how much is it, and how does it press?"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass, field

from inventory.laying_down import Filling
from inventory.models import Item, Lot
from inventory.refusals import Refusal
from planner import gates
from planner.bottling_plan import Line, Plan

UL_PER_L = 1_000_000


@dataclass(frozen=True)
class Done:
    """What was really filled: bottles by item, one filled short, and those that broke."""

    counts: Mapping[int, int]
    broken: Mapping[int, int] = field(default_factory=dict)
    short: tuple[int, int] | None = None
    priming_lot: Lot | None = None
    reason: str = ""
    planned: int | None = None


def chosen(lines: Iterable[Line], done: Done) -> list[Line]:
    """The kinds of bottle that were filled; refuses one that is not to be filled today."""
    by_item = {line.item.pk: line for line in lines}
    wanted = {key for key, count in done.counts.items() if count} | (
        {done.short[0]} if done.short else set()
    )
    lost = wanted - set(by_item)
    if lost:
        names = ", ".join(Item.objects.filter(pk__in=lost).values_list("name", flat=True))
        raise Refusal(f"Not to be filled today: {names or 'an unknown bottle'}.", field="counts")
    return [by_item[key] for key in by_item if key in wanted]


def refuse_too_much(plan: Plan, lines: list[Line], done: Done) -> None:
    """Refuse more bottles than are clean, and more wine than is there."""
    if not lines:
        raise Refusal("Say how many bottles were filled.", field="counts")
    for line in lines:
        wanted = done.counts.get(line.item.pk, 0) + (
            bool(done.short) and done.short[0] == line.item.pk
        )
        wanted += done.broken.get(line.item.pk, 0)
        if wanted > line.clean:
            raise Refusal(
                f"{wanted} of {line.item} wanted, {line.clean} are clean.",
                field=f"count_{line.item.pk}",
            )
    if volume(lines, done) > plan.volume:
        raise Refusal(
            f"{volume(lines, done) / UL_PER_L:.2f} L in these bottles, {plan.volume / UL_PER_L:.2f} L are "
            "there after sample and hose.",
            field="counts",
        )


def volume(lines: Iterable[Line], done: Done) -> int:
    """Microlitres in all of them."""
    whole = sum(line.kind.nominal * done.counts.get(line.item.pk, 0) for line in lines)
    return whole + (done.short[1] if done.short else 0)


def pressed(lines: Iterable[Line]) -> list[gates.Verdict]:
    """The pressure of every kind that is filled; what cannot be reckoned is stopped."""
    found = []
    for line in lines:
        if line.pressed is None:
            reason = gates.Reason(
                gates.STOP, f"{line.item}: {line.problem}", ("less fizz", "another bottle")
            )
            found.append(gates.Verdict("pressure", (reason,)))
            continue
        reasons = tuple(
            gates.Reason(one.level, f"{line.item}: {one.words}", one.ways_out)
            for one in line.pressed.verdict.reasons
        )
        found.append(gates.Verdict("pressure", reasons))
    return found


def sugar_g(lines: Iterable[Line], done: Done) -> float:
    """Grams of priming in all of them, the one filled short by what it holds."""
    return sum(
        line.pressed.dose_g * done.counts.get(line.item.pk, 0)
        + (
            line.pressed.dose_g_per_l * done.short[1] / UL_PER_L
            if done.short and done.short[0] == line.item.pk
            else 0
        )
        for line in lines
    )


def fillings(lines: Iterable[Line], done: Done) -> list[Filling]:
    """What is laid down, the one filled short by itself."""
    found = []
    for line in lines:
        co2 = round(line.pressed.co2_g_per_l * 1000) if line.pressed else None
        same = {"item": line.item, "closure": line.closure, "cage": line.cage, "co2": co2}
        found.append(
            Filling(count=done.counts.get(line.item.pk, 0), fill=line.kind.nominal, **same)
        )
        if done.short and done.short[0] == line.item.pk:
            found.append(Filling(count=1, fill=done.short[1], **same))
    return found
