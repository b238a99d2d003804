"""Are batches, their steps, needs and vessels true to each other?"""

from collections.abc import Iterator

from django.db.models import Count, Exists, F, Max, Min, OuterRef, Q, Sum, Window
from django.db.models.functions import Coalesce

from inventory.audit import check, name_of
from inventory.models import Movement, Requirement
from planner.models import (
    Addition,
    Batch,
    Bottling,
    FeedToken,
    Normals,
    Occupancy,
    Pick,
    Reading,
    Recipe,
    RecipeLine,
    Step,
    StepNeed,
    StepTemplate,
    Transfer,
    WeatherDay,
    WeatherFile,
)
from planner.models.volume import BETWEEN
from planner.occupancies import Span

Found = Iterator[tuple[str, str]]


def _rows(rows, fault: str) -> Found:
    for row in rows:
        yield name_of(type(row), row.pk), fault


@check("a batch has steps, and its version says which")
def _steps_of_versions() -> Found:
    empty = Batch.objects.annotate(number=Count("steps")).filter(number=0)
    yield from _rows(empty, "has no steps")
    strange = Step.objects.filter(template__isnull=False).exclude(
        template__version=F("batch__recipe_version")
    )
    yield from _rows(strange, "follows a template of another version")


@check("a dropped batch has nothing left to do")
def _dropped() -> Found:
    dropped = Q(state=Batch.State.DROPPED)
    yield from _rows(Batch.objects.filter(dropped, dropped__isnull=True), "says no day of dropping")
    yield from _rows(
        Batch.objects.exclude(dropped).filter(dropped__isnull=False), "has a day of dropping"
    )
    steps = Step.objects.filter(batch__state=Batch.State.DROPPED, state=Step.State.TO_DO)
    yield from _rows(steps, "is to do in a dropped batch")
    yield from _rows(
        Step.objects.exclude(batch__state=Batch.State.DROPPED).filter(state=Step.State.CANCELLED),
        "is cancelled in a batch that goes on",
    )
    yield from _rows(
        Occupancy.objects.filter(batch__state=Batch.State.DROPPED), "is of a dropped batch"
    )


@check("a done step says when, and no other does")
def _done() -> Found:
    done = Q(state=Step.State.DONE)
    yield from _rows(Step.objects.filter(done, done_on__isnull=True), "does not say when")
    yield from _rows(Step.objects.exclude(done).filter(done_on__isnull=False), "says it was done")


@check("what a step needs is wanted on its day")
def _needs() -> Found:
    ties = StepNeed.objects.filter(
        step__state=Step.State.TO_DO, requirement__state=Requirement.State.OPEN
    )
    yield from _rows(ties.exclude(requirement__day=F("step__day")), "is on another day")


@check("nothing is needed for a step that is over", grave=False)
def _needs_of_ended_steps() -> Found:
    ended = StepNeed.objects.exclude(step__state=Step.State.TO_DO)
    yield from _rows(ended.filter(requirement__state=Requirement.State.OPEN), "is still open")


@check("what a batch needs belongs to one of its steps")
def _needs_without_steps() -> Found:
    loose = Requirement.objects.filter(origin__startswith="batch:", step_need__isnull=True)
    yield from _rows(loose, "belongs to no step")
    for tie in StepNeed.objects.select_related("step", "requirement"):
        if tie.requirement.origin != f"batch:{tie.step.batch_id}":
            yield name_of(StepNeed, tie.pk), "belongs to another batch"


@check("a vessel is used from step to step of its batch")
def _occupancies() -> Found:
    for use in Occupancy.objects.select_related("first_step", "last_step"):
        steps = [step for step in (use.first_step, use.last_step) if step]
        span = Span("", use.first_step, use.last_step)
        if {step.batch_id for step in steps} != {use.batch_id}:
            yield name_of(Occupancy, use.pk), "is bounded by steps of another batch"
        elif (use.begins, use.ends) != (span.begins, span.ends):
            yield name_of(Occupancy, use.pk), "does not begin and end with its steps"


@check("a recipe counts from its own steps and earlier ones")
def _templates() -> Found:
    anchored = StepTemplate.objects.filter(after__isnull=False)
    strange = anchored.exclude(after__version=F("version"), after__place__lt=F("place"))
    yield from _rows(strange, "counts from no earlier step of its version")
    yield from _rows(
        RecipeLine.objects.exclude(step__version=F("version")),
        "goes in at a step of another version",
    )


@check("versions of a recipe are numbered without gaps")
def _versions() -> Found:
    counted = Recipe.objects.annotate(last=Max("versions__number"), number=Count("versions"))
    yield from _rows(counted.filter(last__isnull=False).exclude(last=F("number")), "has gaps")


@check("a calendar address keeps a digest and no secret")
def _digests() -> Found:
    for token in FeedToken.objects.all():
        if len(token.digest) != 64 or set(token.digest) - set("0123456789abcdef"):
            yield name_of(FeedToken, token.pk), "keeps no digest"


@check("what was added to a batch is in the ledger, as much and once")
def _additions() -> Found:
    tied = Addition.objects.exclude(movement=None)
    yield from _rows(
        tied.exclude(movement__quantity=-F("amount")), "does not agree with its line in the ledger"
    )
    undone = Exists(Movement.objects.filter(undoes=OuterRef("movement")))
    yield from _rows(tied.filter(undone, taken_back=False), "was taken back in the ledger alone")
    yield from _rows(tied.filter(~undone, taken_back=True), "was taken back, its line was not")


@check("a reading comes after its batch began, and a struck one says why")
def _readings() -> Found:
    early = Reading.objects.filter(at__date__lt=F("batch__start"))
    yield from _rows(early, "was read before its batch began")
    yield from _rows(
        Reading.objects.filter(struck="", struck_by__isnull=False), "is struck without a reason"
    )


@check("no pick gave more than it had")
def _picks() -> Found:
    given = Sum("shares__amount", filter=Q(shares__taken_back=False))
    had = Coalesce("sorted_out", "net")
    rows = Pick.objects.annotate(given=given, had=had)
    yield from _rows(rows.filter(given__gt=F("had")), "gave more than it had")
    yield from _rows(
        rows.filter(taken_back=True, given__gt=0), "is taken back and lives on as a lot"
    )


@check("a pick weighs what its tubs hold")
def _weighings() -> Found:
    weighed = Sum(F("weighings__gross") - F("weighings__tare"))
    rows = Pick.objects.annotate(weighed=weighed)
    yield from _rows(rows.exclude(weighed=F("net")), "is not the sum of its tubs")


@check("the days of a weather file lie between its first and last, and both are there")
def _weather_files() -> Found:
    outside = WeatherDay.objects.filter(
        Q(day__lt=F("file__first")) | Q(day__gt=F("file__last"))
    ).select_related("file")
    yield from ((name_of(WeatherFile, row.file_id), f"has {row.day}") for row in outside)
    ends = WeatherFile.objects.annotate(begins=Min("days__day"), until=Max("days__day")).exclude(
        begins=F("first"), until=F("last")
    )
    yield from _rows(ends, "does not begin and end with its days")


@check("usual months are twelve, the lowest not above the highest")
def _normals() -> Found:
    for row in Normals.objects.all():
        pairs = list(zip(row.lows, row.highs, strict=False))
        if len(row.lows) != 12 or len(row.highs) != 12 or any(low > high for low, high in pairs):
            yield name_of(Normals, row.pk), "has months that cannot be"


@check("no batch ever held less than nothing")
def _volumes() -> Found:
    held = Window(Sum("change"), partition_by="batch", order_by="id")
    rows = Transfer.objects.annotate(held=held).filter(held__lt=0).order_by("id")
    yield from _rows(rows, "leaves its batch at less than nothing")


@check("what goes from one batch to another leaves the one and comes to the other")
def _between() -> Found:
    rows = Transfer.objects.filter(cause__in=BETWEEN).order_by()
    for act, total in rows.values_list("act").annotate(Sum("change")):
        if total:
            yield f"act {act}", f"makes {total} out of nothing"


@check("what takes a line of volume back is its exact opposite")
def _volume_opposites() -> Found:
    for back in Transfer.objects.filter(undoes__isnull=False).select_related("undoes"):
        if (back.undoes.batch_id, back.undoes.change) != (back.batch_id, -back.change):
            yield name_of(Transfer, back.pk), f"is not the opposite of {back.undoes_id}"


@check("a batch that was poured into another holds nothing and has nothing to do")
def _joined() -> Found:
    joined = Batch.objects.filter(state=Batch.State.JOINED)
    held = joined.annotate(sum=Sum("transfers__change")).exclude(sum=0)
    yield from _rows(held, "still holds something")
    steps = Step.objects.filter(batch__in=joined, state=Step.State.TO_DO)
    yield from _rows(steps, "is to do in a batch that is no more")


@check("a bottling that stands took its wine out of the batch")
def _bottlings() -> Found:
    for row in Bottling.objects.filter(taken_back=False):
        lines = Transfer.objects.filter(act=row.act, undoes=None, transfer=None)
        if sum(lines.values_list("change", flat=True)) != -row.filled:
            yield name_of(Bottling, row.pk), "says another volume than the ledger"
