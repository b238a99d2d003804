"""What does a batch's book say: how strong is it, is it still working, when will it be quiet?"""

import datetime as dt
from collections.abc import Sequence
from dataclasses import dataclass

from django.db.models import OuterRef, Q, Subquery
from django.db.models.functions import Coalesce
from django.utils import timezone

from inventory.models.items import Kind
from planner import kinetics
from planner.chemistry import alcohol, hydrometer
from planner.chemistry.figure import Figure, measured, unknown
from planner.chemistry.finish import expected_finish
from planner.models import Batch, Reading, Step
from planner.models.book import ReadingKind
from planner.must_design import bears_of

USUAL_REFERENCE_C = 20.0
SECONDS_PER_DAY = 86_400
# Common practice, no source: a must without a step for yeast is read within a day of its making.
READ_WITHIN = dt.timedelta(days=1)
YEAST_STEP = (
    Q(needs__requirement__item__kind=Kind.YEAST)
    | Q(title__icontains="yeast")
    | Q(title__istartswith="pitch")
)


@dataclass(frozen=True)
class Gravity:
    """A gravity reading and what it comes to at 20 °C."""

    reading: Reading
    figure: Figure

    @property
    def day(self) -> dt.date:
        return timezone.localtime(self.reading.at).date()


@dataclass(frozen=True)
class Book:
    """All readings, oldest first, and what follows from the gravities among them.

    `start` is the first gravity, if it was read before the yeast had worked.
    """

    batch: Batch
    readings: list[Reading]
    gravities: list[Gravity]
    start: Gravity | None
    strength: Figure
    finish: Figure
    stillness: kinetics.Stillness
    quiet: kinetics.Quiet | None

    @property
    def lines(self) -> list[Reading]:
        """Every reading, a gravity with its `figure` at 20 °C, none for the others."""
        figures = {row.reading.pk: row.figure for row in self.gravities}
        for row in self.readings:
            row.figure = figures.get(row.pk)
        return self.readings

    @property
    def now(self) -> Gravity | None:
        return self.gravities[-1] if self.gravities else None

    @property
    def quiet_days(self) -> tuple[dt.date, dt.date, dt.date | None] | None:
        return self.quiet.dates(self.gravities[0].day) if self.quiet else None


def of_batch(batch: Batch) -> Book:
    """The book of one batch; one query beside the batch with its version."""
    rows = batch.readings.select_related("by", "struck_by").annotate(yeast_day=_yeast_day())
    readings = list(rows.order_by("at", "pk"))
    good = [row for row in readings if row.kind == ReadingKind.GRAVITY and not row.struck]
    gravities = _corrected(good)
    start = _start(batch, gravities)
    finish = _finish(batch, start)
    points = _points(gravities)
    return Book(
        batch,
        readings,
        gravities,
        start,
        _strength(start, gravities),
        finish,
        kinetics.stillness(points, expected_finish=finish.value),
        _quiet(points, finish),
    )


def _yeast_day() -> Subquery:
    """The day on which the yeast went in, or is to."""
    gone_by = (Step.State.SKIPPED, Step.State.CANCELLED)
    steps = Step.objects.filter(YEAST_STEP, batch=OuterRef("batch")).exclude(state__in=gone_by)
    day = Coalesce("done_on", "day")
    return Subquery(steps.order_by(day).values_list(day)[:1])


def _start(batch: Batch, gravities: Sequence[Gravity]) -> Gravity | None:
    """A gravity read after the yeast began tells nothing of the must."""
    if not gravities:
        return None
    first = gravities[0]
    latest = first.reading.yeast_day or batch.start + READ_WITHIN
    return first if first.day <= latest else None


def _corrected(readings: Sequence[Reading]) -> list[Gravity]:
    """The first is must, those after hold the alcohol that start and reading tell of."""
    found: list[Gravity] = []
    for row in readings:
        start = found[0].figure.value if found else None
        found.append(Gravity(row, corrected(row, start)))
    return found


def corrected(reading: Reading, start: float | None) -> Figure:
    """A gravity at 20 °C; without the sample's temperature it stands as it was read."""
    if reading.temperature is None:
        return measured(
            reading.number, "SG", source="read off; the sample's temperature is not known"
        )
    pair = {
        "reading": reading.number,
        "sample_c": reading.temperature / 1000,
        "calibration_c": (reading.reference or USUAL_REFERENCE_C * 1000) / 1000,
    }
    try:
        if start is None:
            return hydrometer.must_gravity.figure(**pair)
        return hydrometer.working_gravity.figure(**pair, start_gravity=max(1.0, start))
    except ValueError as wrong:
        return measured(reading.number, "SG", source=f"as read off: {wrong}")


def _strength(start: Gravity | None, gravities: Sequence[Gravity]) -> Figure:
    if start is None or len(gravities) < 2:
        return unknown("% vol")
    begun, now = start.figure.value, gravities[-1].figure.value
    try:
        return alcohol.strength(start_gravity=begun, finish_gravity=min(now, begun))
    except ValueError:
        return unknown("% vol")


def _finish(batch: Batch, start: Gravity | None) -> Figure:
    """Where it should end; not known while nobody read its start."""
    if start is None or not 1.0 <= start.figure.value <= 1.2:
        return unknown("SG")
    bears = bears_of(batch.recipe_version)
    most = None if bears is None else sum(bears) / 2
    return expected_finish(start_gravity=start.figure.value, tolerance_abv=most)


def _points(gravities: Sequence[Gravity]) -> list[kinetics.Reading]:
    """Days since the first reading, with the hours."""
    if not gravities:
        return []
    first = gravities[0].reading.at
    return [
        kinetics.Reading(
            (row.reading.at - first).total_seconds() / SECONDS_PER_DAY, row.figure.value
        )
        for row in gravities
    ]


def _quiet(points: Sequence[kinetics.Reading], finish: Figure) -> kinetics.Quiet | None:
    """When it should be quiet; none while the readings fix no curve."""
    if len(points) < 3 or finish.value is None or finish.value >= points[0].gravity:
        return None
    try:
        return kinetics.quiet(
            points[1:],
            start_gravity=points[0].gravity,
            finish_gravity=finish.value,
            finish_low=finish.low,
            finish_high=finish.high,
        )
    except ValueError:
        return None
