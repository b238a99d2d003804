"""What lies in the cellar, what is ready, what to open first, and what presses too hard where it lies?"""

import datetime as dt
from collections.abc import Iterable
from dataclasses import dataclass

from inventory import cellar
from inventory.models import CellarLot, StoragePlace
from planner import fizz, gates
from planner.bottling_plan import glass_of

UL_PER_L = 1_000_000
MG_PER_G = 1000
# Of a strength that nobody knows; the more alcohol, the less gas wine holds and the harder it presses.
STRONG = 15.0
PAST, SOON = "past its best", "drink soon"
READY, RESTING, TEST, BEWARE = "ready", "resting", "to be tested", "beware"
SOON_DAYS = 60
TONES = {PAST: "warn", SOON: "warn", READY: "good", RESTING: "wait", TEST: "warn", BEWARE: "stop"}


@dataclass(frozen=True)
class Lying:
    """Bottles of one lot at one place (none: no place noted), with what their pressure says there."""

    lot: CellarLot
    place: StoragePlace | None
    count: int
    verdict: gates.Verdict | None
    bar: float | None

    @property
    def word(self) -> str:
        """How the pressure stands there."""
        return "" if self.bar is None else fizz.word_of(self.bar, glass_of_lot(self.lot))

    @property
    def warm_c(self) -> float:
        return warmest_of(self.place)


@dataclass(frozen=True)
class Held:
    """One lot with all its places."""

    lot: CellarLot
    lying: list[Lying]
    today: dt.date

    @property
    def pk(self) -> int:
        return self.lot.pk

    def __str__(self) -> str:
        return str(self.lot)

    def get_absolute_url(self) -> str:
        return self.lot.get_absolute_url()

    @property
    def left(self) -> int:
        return sum(one.count for one in self.lying)

    @property
    def hazards(self) -> list[Lying]:
        return [one for one in self.lying if one.verdict and one.verdict.level != gates.GO]

    @property
    def word(self) -> str:
        """How it stands, the gravest first."""
        if self.lot.flagged or any(one.verdict.level == gates.STOP for one in self.hazards):
            return BEWARE
        if self.lot.drink_by and self.lot.drink_by < self.today:
            return PAST
        if self.lot.ready and self.lot.ready > self.today:
            return TEST if self.lot.test_on and self.lot.test_on <= self.today else RESTING
        if self.lot.drink_by and (self.lot.drink_by - self.today).days <= SOON_DAYS:
            return SOON
        return READY

    @property
    def tone(self) -> str:
        return TONES[self.word]

    @property
    def first(self) -> tuple:
        """What is to be opened first: by what must be drunk first, then the oldest."""
        return (self.lot.drink_by or dt.date.max, self.lot.bottled, self.lot.pk)


def held(*, today: dt.date, lots: Iterable[CellarLot] | None = None) -> list[Held]:
    """Every lot of which bottles are left, what to open first first; three queries."""
    if lots is None:
        lots = CellarLot.objects.all()
        lots = lots.select_related("item__bottle_type", "closure__closure_type", "cage")
    lots = list(lots)
    there = cellar.held(lots)
    places = StoragePlace.objects.in_bulk({key for by in there.values() for key in by if key})
    found = [
        Held(
            lot,
            [
                lying_at(lot, places.get(key), count)
                for key, count in sorted(there[lot.pk].items(), key=lambda pair: pair[0] or 0)
            ],
            today,
        )
        for lot in lots
        if lot.pk in there
    ]
    return sorted(found, key=lambda one: one.first)


def lying_at(lot: CellarLot, place: StoragePlace | None, count: int) -> Lying:
    """The bottles at a place with their pressure at its warmest; asks the database nothing."""
    if not lot.is_fizzy:
        return Lying(lot, place, count, None, None)
    verdict, bar = judge(lot, place)
    return Lying(lot, place, count, verdict, bar)


def judge(lot: CellarLot, place: StoragePlace | None) -> tuple[gates.Verdict, float | None]:
    """By the ratings of today and the warmest of the place, so that a change tells at once."""
    glass, wine = glass_of_lot(lot), wine_of_lot(lot)
    if lot.co2 is None:
        reason = gates.Reason(gates.LOOK_AGAIN, "how much gas is in it is not known")
        return gates.Verdict("pressure", (reason,)), None
    try:
        bar = fizz.gauge(wine, glass, lot.co2 / MG_PER_G, warmest_of(place)).value
    except ValueError as wrong:
        reason = gates.Reason(gates.STOP, str(wrong), ("move it somewhere cooler today",))
        return gates.Verdict("pressure", (reason,)), None
    verdict = gates.pressure(
        gauge_bar=bar, bottle_rated_bar=glass.bottle_bar, closure_rated_bar=glass.closure_bar
    )
    name = str(place) if place else "no place noted"
    return gates.place(name=name, before=gates.Verdict("pressure"), after=verdict), bar


def warmest_of(place: StoragePlace | None) -> float:
    """Its warmest, or that of a warm room where nobody has said."""
    if place is None or place.warmest_c is None:
        return fizz.WARM_ROOM_C
    return place.warmest_c


def wine_of_lot(lot: CellarLot) -> fizz.Wine:
    return fizz.Wine(
        abv=STRONG if lot.strength is None else min(20, lot.strength / 1000), residual_g_per_l=0.0
    )


def glass_of_lot(lot: CellarLot) -> fizz.Glass:
    """The bottle and its closure by what is said of them today, filled as it was."""
    kind = getattr(lot.item, "bottle_type", None)
    fill = lot.fill / UL_PER_L
    if kind is None:
        return fizz.Glass(fill, None, None, None)
    closure = getattr(lot.closure, "closure_type", None) if lot.closure else None
    found = glass_of(kind, closure)
    return fizz.Glass(fill, found.brimful_l, found.bottle_bar, found.closure_bar)


def by_place(lots: Iterable[Held]) -> list[tuple[StoragePlace | None, list[Lying]]]:
    """The same by place, in their order."""
    found: dict[int | None, list[Lying]] = {}
    for one in lots:
        for lying in one.lying:
            found.setdefault(lying.place.pk if lying.place else None, []).append(lying)
    return [(rows[0].place, rows) for rows in found.values()]


def smallest(lots: Iterable[Held], origin: str) -> Held | None:
    """The bottle to try first of a drink: of plastic, else the smallest."""
    own = [one for one in lots if one.lot.origin == origin]
    return min(own, key=_as_a_test, default=None)


def _as_a_test(one: Held) -> tuple:
    kind = getattr(one.lot.item, "bottle_type", None)
    return (not (kind and kind.finish == "plastic"), one.lot.fill, one.lot.pk)
