"""Vessels over a year: which is in use when, and where do two batches want one?"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import date, timedelta
from itertools import groupby

from inventory.models import Vessel
from inventory.pictures import (
    Bar,
    Fact,
    Key,
    Picture,
    Row,
    date_words,
    day_axis,
    day_words,
    days_words,
    draw_rows,
)
from planner import occupancies
from planner.models import Occupancy
from planner.occupancies import Conflict

ONE_DAY = timedelta(days=1)
KEYS = (
    Key("box", "solid", "in use"),
    Key("box", "wash", "booked"),
    Key("box", "hollow", "has been in use"),
)
CLASH_KEY = Key("box", "clash", "clash: two batches want it")
MOST_NAMED = 4


@dataclass(frozen=True)
class VesselYear:
    """One vessel, its uses in sight and where two of them overlap."""

    vessel: Vessel
    uses: tuple[Occupancy, ...]
    clashes: tuple[Conflict, ...]


def vessel_picture(
    *, on: date, start: date | None = None, days: int = 365, vessels: Iterable[Vessel] | None = None
) -> Picture:
    """Every vessel from the first of this month (or `start`) for a year; three queries."""
    first = start or on.replace(day=1)
    last = first + timedelta(days=days - 1)
    found = _years(vessels, first, last)
    clashes = sorted((c for year in found for c in year.clashes), key=lambda c: c.begins)
    return Picture(
        title=f"What stands in each vessel, {date_words(first)} to {date_words(last)}",
        finding=_finding(clashes, first, last),
        drawing=draw_rows(
            [_row(year, on) for year in found],
            axis=day_axis(first, last),
            now=on,
            now_text=f"today, {day_words(on)}",
        ),
        head=("Vessel", "Batch", "State", "From", "Free again", "Clash"),
        facts=tuple(fact for year in found for fact in _facts(year, on)),
        keys=(*KEYS, CLASH_KEY) if clashes else KEYS,
    )


def _years(vessels: Iterable[Vessel] | None, first: date, last: date) -> list[VesselYear]:
    asked = Vessel.objects.filter(archived=False) if vessels is None else vessels
    rows = Occupancy.objects.filter(begins__lte=last, ends__gt=first).select_related("batch")
    in_order = rows.order_by("vessel_id", "begins", "id")
    uses = {key: tuple(of) for key, of in groupby(in_order, lambda use: use.vessel_id)}
    clashes: dict[int, list[Conflict]] = {}
    for clash in occupancies.conflicts():
        if clash.begins <= last and clash.ends > first:
            clashes.setdefault(clash.vessel.pk, []).append(clash)
    return [
        VesselYear(vessel, uses.get(vessel.pk, ()), tuple(clashes.get(vessel.pk, ())))
        for vessel in asked
    ]


def _state(use: Occupancy, on: date) -> tuple[str, str]:
    """How a use stands on a day, in words and as it is drawn."""
    if use.ends <= on:
        return "has been in use", "hollow"
    return ("in use", "solid") if use.begins <= on else ("booked", "wash")


def _row(year: VesselYear, on: date) -> Row:
    return Row(
        label=year.vessel.name,
        note=_note(year, on),
        urgent=bool(year.clashes),
        bars=[_bar(use, on) for use in year.uses],
        over=[
            Bar(clash.begins, clash.ends, "clash", title=f"clash {_days(clash)}: {_both(clash)}")
            for clash in year.clashes
        ],
    )


def _bar(use: Occupancy, on: date) -> Bar:
    title = f"{use.batch}: {date_words(use.begins)}, free again {date_words(use.ends)}"
    return Bar(use.begins, use.ends, _state(use, on)[1], use.batch.name, title)


def _note(year: VesselYear, on: date) -> str:
    if year.clashes:
        more = f" and {len(year.clashes) - 1} more" if len(year.clashes) > 1 else ""
        return f"clash {_days(year.clashes[0])}{more}"
    now = [use for use in year.uses if use.begins <= on < use.ends]
    if now:
        return f"in use, free {day_words(max(use.ends for use in now))}"
    coming = [use.begins for use in year.uses if use.begins > on]
    return f"free until {day_words(min(coming))}" if coming else "free"


def _days(clash: Conflict) -> str:
    return days_words(clash.begins, clash.ends - ONE_DAY)


def _both(clash: Conflict) -> str:
    return f"{clash.first.batch} and {clash.second.batch}"


def _facts(year: VesselYear, on: date) -> list[Fact]:
    address = year.vessel.get_absolute_url()
    if not year.uses:
        return [Fact((year.vessel.name, "none", "free", "", "", "none"), address)]
    return [
        Fact(
            (
                year.vessel.name,
                use.batch.name,
                _state(use, on)[0],
                date_words(use.begins),
                date_words(use.ends),
                "; ".join(_days(c) for c in year.clashes if use in (c.first, c.second)) or "none",
            ),
            address,
        )
        for use in year.uses
    ]


def _finding(clashes: Sequence[Conflict], first: date, last: date) -> str:
    span = f"from {date_words(first)} to {date_words(last)}"
    if not clashes:
        return f"No vessel is wanted twice at once {span}."
    named = [f"{c.vessel} {_days(c)} ({_both(c)})" for c in clashes[:MOST_NAMED]]
    rest = len(clashes) - len(named)
    more = f", and {rest} more" if rest else ""
    number = "One clash" if len(clashes) == 1 else f"{len(clashes)} clashes"
    return f"{number} {span}: {', '.join(named)}{more}."
