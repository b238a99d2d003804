"""How did a batch come out against its plan, and what did a bottle cost?"""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass
from uuid import UUID

from django.db.models import Sum

from inventory import cellar
from inventory.models import CellarLine, CellarLot, Fate
from planner import tastings, trace
from planner.book import Book
from planner.models import Batch, Bottling, Cause, Pick, Tasting, Transfer

STANDARD_UL = 750_000
GRAVITY_SIZE = 10_000


@dataclass(frozen=True)
class Against:
    """One thing as planned and as it was, in words; `change` in percent where both are numbers."""

    what: str
    planned: str
    real: str
    change: float | None = None


@dataclass(frozen=True)
class LookBack:
    """What a batch came to; cost in hundredths, none where nothing is known."""

    rows: list[Against]
    cost: trace.Cost
    bottles: int
    left: int
    per_bottle: float | None
    per_standard: float | None
    wishes: dict[str, bool]
    liking: float | None
    lessons: list[str]

    @property
    def bottle_text(self) -> str:
        """To a tenth of a hundredth, since a sachet shared out is less than one."""
        each = f"{self.per_bottle / 100:.3f}"
        return (
            f"{each}, {self.per_standard / 100:.3f} for each 750 mL" if self.per_standard else each
        )

    @property
    def wishes_met(self) -> int:
        return sum(self.wishes.values())


def of_batch(batch: Batch, book: Book) -> LookBack:
    """Plan against truth, cost and taste; about twelve queries."""
    filled = list(Bottling.objects.filter(batch=batch, taken_back=False))
    lots = list(CellarLot.objects.filter(origin=batch.origin))
    bottles = _bottles(lots, [row.act for row in filled])
    volume = sum(lot.fill * count for lot, count in bottles.items())
    cost = trace.cost_of(trace.of_batch(batch))
    tasted = tastings.of_batch(batch)
    count = sum(bottles.values())
    known = cost.total if cost.total else None
    return LookBack(
        rows=_rows(batch, book, filled, count),
        cost=cost,
        bottles=count,
        left=sum(sum(by.values()) for by in cellar.held(lots).values()),
        per_bottle=known / count if known and count else None,
        per_standard=known * STANDARD_UL / volume if known and volume else None,
        wishes=_wishes(tasted),
        liking=sum(row.liking for row in tasted) / len(tasted) if tasted else None,
        lessons=[row.lesson for row in tasted if row.lesson],
    )


def _bottles(lots: Iterable[CellarLot], acts: Iterable[UUID]) -> dict[CellarLot, int]:
    """Those laid down on a bottling day that stands; what was poured over later is no new bottle."""
    by_key = {lot.pk: lot for lot in lots}
    rows = CellarLine.objects.filter(lot__in=by_key, act__in=list(acts), fate=Fate.LAID)
    sums = rows.order_by().values_list("lot").annotate(Sum("change"))
    return {by_key[key]: count for key, count in sums if count}


def _rows(batch: Batch, book: Book, filled: list[Bottling], count: int) -> list[Against]:
    rows = [_days("First day", batch.start, _first_done(batch))]
    made = Transfer.objects.filter(batch=batch, cause=Cause.MADE, undoes=None, transfer=None)
    amount = made.values_list("change", flat=True).first()
    if amount:
        rows.append(_numbers("Must, litres", batch.volume / 1e6, amount / 1e6, 2))
    wished = batch.recipe_version.gravity
    if wished and book.start:
        rows.append(_numbers("Start gravity", wished / GRAVITY_SIZE, book.start.figure.value, 4))
    if filled:
        planned = sum(row.planned or 0 for row in filled)
        if planned:
            rows.append(_numbers("Bottles", planned, count, 0))
        step = filled[-1].step
        if step:
            rows.append(_days("Filled", step.nominal, filled[-1].day))
        rows.append(
            _numbers("In glass, litres", batch.volume / 1e6, sum(r.filled for r in filled) / 1e6, 2)
        )
    return rows


def _first_done(batch: Batch) -> dt.date | None:
    return (
        batch.steps.filter(state="done")
        .order_by("done_on")
        .values_list("done_on", flat=True)
        .first()
    )


def _numbers(what: str, planned: float, real: float, places: int) -> Against:
    change = 100 * (real - planned) / planned if planned else None
    return Against(what, f"{planned:.{places}f}", f"{real:.{places}f}", change)


def _days(what: str, planned: dt.date, real: dt.date | None) -> Against:
    words = f"{real:%-d %b %Y}" if real else "not yet"
    return Against(what, f"{planned:%-d %b %Y}", words)


def _wishes(tasted: Iterable[Tasting]) -> dict[str, bool]:
    """A wish came true where the newest tasting that names it says so."""
    found: dict[str, bool] = {}
    for row in tasted:
        for wish, true in row.wishes.items():
            found.setdefault(wish, true)
    return found


@dataclass(frozen=True)
class Year:
    """What a house made and drank in a year."""

    year: int
    batches: list[Batch]
    filled: int
    bottles: int
    opened: int
    picked: list[tuple[str, int]]


def of_year(year: int) -> Year:
    """Batches begun, litres and bottles filled, bottles opened, and what each patch gave; six queries."""
    filled = Bottling.objects.filter(day__year=year, taken_back=False)
    lots = CellarLot.objects.filter(bottled__year=year)
    picks: dict[str, int] = {}
    for name, net in Pick.objects.filter(day__year=year, taken_back=False).values_list(
        "patch__name", "net"
    ):
        picks[name or "no patch named"] = picks.get(name or "no patch named", 0) + net
    return Year(
        year,
        list(Batch.objects.filter(start__year=year).order_by("start", "name")),
        sum(filled.values_list("filled", flat=True)),
        sum(_bottles(lots, filled.values_list("act", flat=True)).values()),
        -_opened(year),
        sorted(picks.items(), key=lambda pair: -pair[1]),
    )


def _opened(year: int) -> int:
    rows = CellarLine.objects.filter(day__year=year, fate__in=("opened", "tested"))
    return sum(rows.values_list("change", flat=True))
