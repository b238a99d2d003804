"""Which rows of the store and the household break a rule?"""

from collections.abc import Iterator

from django.db.models import Count, Exists, F, OuterRef, Q, Subquery, Sum, Window
from django.db.models.functions import Lag

from inventory import photos
from inventory.activity import UNDOERS
from inventory.audit import check, name_of
from inventory.glass import PIECE
from inventory.household import ROLES
from inventory.models import (
    Activity,
    CellarLine,
    GlassLine,
    GlassState,
    Item,
    Loan,
    Lot,
    Movement,
    Person,
    Photo,
    Receipt,
    Requirement,
    Reservation,
)

Found = Iterator[tuple[str, str]]
State = Requirement.State


def line(key: int) -> str:
    return name_of(Movement, key)


@check("no lot ever held less than nothing")
def _balance() -> Found:
    held = Window(Sum("quantity"), partition_by="lot", order_by="id")
    rows = Movement.objects.annotate(held=held).filter(held__lt=0).order_by("id")
    for key, mark, left in rows.values_list("pk", "lot__mark", "held"):
        yield line(key), f"leaves lot {mark} at {left}"


@check("a lot begins with what was received")
def _beginnings() -> Found:
    first = Movement.objects.filter(lot=OuterRef("pk")).order_by("id").values("kind")[:1]
    rows = Lot.objects.order_by("pk").annotate(first=Subquery(first))
    rows = rows.filter(Q(first=None) | ~Q(first=Movement.Kind.RECEIVE))
    for mark, kind in rows.values_list("mark", "first"):
        yield f"lot {mark}", f"begins with {kind or 'nothing'}"


@check("what takes a line back is its exact opposite, once")
def _opposites() -> Found:
    rows = Movement.objects.filter(Q(kind=Movement.Kind.UNDO) | Q(undoes__isnull=False))
    for back in rows.select_related("undoes").order_by("pk"):
        taken = back.undoes
        if taken is None or back.kind != Movement.Kind.UNDO:
            yield line(back.pk), "takes nothing back, or is not called so"
        elif (taken.lot_id, taken.quantity) != (back.lot_id, -back.quantity):
            yield line(back.pk), f"is not the opposite of {taken.pk}"
        elif taken.pk >= back.pk or taken.kind == Movement.Kind.UNDO:
            yield line(back.pk), f"cannot take back {taken.pk}"


@check("what was used for a need is what it asks for")
def _uses() -> Found:
    rows = Movement.objects.exclude(requirement=None).exclude(lot__item=F("requirement__item"))
    for key, need in rows.values_list("pk", "requirement"):
        yield line(key), f"is of another item than requirement {need}"


@check("no lot is promised beyond what it holds")
def _promises() -> Found:
    held = dict(Movement.objects.order_by().values_list("lot").annotate(Sum("quantity")))
    rows = Reservation.objects.order_by().values_list("lot", "lot__mark")
    for key, mark, promised in rows.annotate(Sum("quantity")):
        if promised > held.get(key, 0):
            yield f"lot {mark}", f"holds {held.get(key, 0)}, {promised} of it are promised"


@check("only an open need holds a promise, no more than it asks for, of its own item")
def _promised_needs() -> Found:
    rows = Reservation.objects.order_by("pk").select_related("requirement", "lot")
    for row in rows.exclude(requirement__state=State.OPEN):
        yield name_of(Reservation, row.pk), f"is for a need that is {row.requirement.state}"
    for row in rows.exclude(lot__item=F("requirement__item")):
        yield name_of(Reservation, row.pk), f"is of another item than {row.requirement}"
    needs = Requirement.objects.annotate(promised=Sum("reservations__quantity"))
    for key, promised in needs.filter(promised__gt=F("quantity")).values_list("pk", "promised"):
        yield name_of(Requirement, key), f"asks for less than the {promised} it is promised"


@check("a met need shows what was used for it")
def _met_needs() -> Found:
    used = Movement.objects.filter(
        requirement=OuterRef("pk"), kind=Movement.Kind.ISSUE, movement__isnull=True
    )
    for key in Requirement.objects.filter(~Exists(used), state=State.MET).values_list(
        "pk", flat=True
    ):
        yield name_of(Requirement, key), "is met, and nothing was used for it"


@check("what arrived is a lot of its item, what did not is none")
def _arrivals() -> Found:
    arrived = Q(state=Receipt.State.ARRIVED)
    for row in Receipt.objects.filter(arrived).select_related("lot"):
        if row.lot is None or row.lot.item_id != row.item_id:
            yield name_of(Receipt, row.pk), "arrived, but not as a lot of its item"
    for key in Receipt.objects.filter(~arrived, lot__isnull=False).values_list("pk", flat=True):
        yield name_of(Receipt, key), "has a lot, but did not arrive"


@check("what was undone was undone later, and what can be undone has its opposite")
def _activities() -> Found:
    undone = Activity.objects.exclude(undone_by=None).order_by("pk")
    wrong = undone.filter(Q(undone_by__lte=F("pk")) | ~Q(undone_by__verb="undo"))
    for key, by in wrong.values_list("pk", "undone_by"):
        yield name_of(Activity, key), f"cannot be undone by {by}"
    rows = Activity.objects.exclude(undo="").filter(undone_by=None).exclude(undo__in=UNDOERS)
    for key, name in rows.values_list("pk", "undo"):
        yield name_of(Activity, key), f"nothing undoes {name!r}"


@check("everybody who may sign in has exactly one role")
def _roles() -> Found:
    roles = Count("groups", filter=Q(groups__name__in=ROLES))
    people = Person.objects.filter(is_active=True).annotate(roles=roles).exclude(roles=1)
    for name, number in people.values_list("username", "roles"):
        yield f"person {name}", f"has {number} roles"


@check("the clock did not step back", grave=False)
def _clock() -> Found:
    rows = Movement.objects.annotate(
        before=Window(Lag("recorded_at"), partition_by="lot", order_by="id")
    )
    for key in rows.filter(recorded_at__lt=F("before")).values_list("pk", flat=True):
        yield line(key), "was recorded before the line above it in its lot"


@check("no state of a bottle was ever counted below zero")
def _glass_states() -> Found:
    held = Window(Sum("change"), partition_by=["item", "state"], order_by="id")
    rows = GlassLine.objects.annotate(held=held).filter(held__lt=0).order_by("id")
    for key, item, state, left in rows.values_list("pk", "item__name", "state", "held"):
        yield name_of(GlassLine, key), f"leaves {left} {item} {state}"


@check("what became clean or was clean is in the ledger too, as many of the same kind")
def _glass_ledger() -> Found:
    tied = GlassLine.objects.filter(undoes=None).exclude(movement=None)
    earlier = GlassLine.objects.filter(movement=OuterRef("movement"), pk__lt=OuterRef("pk"))
    agrees = Q(movement__lot__item=F("item"), movement__quantity=F("change") * -PIECE)
    wrong = tied.filter(~agrees | Exists(earlier))
    for key in wrong.order_by("pk").values_list("pk", flat=True):
        yield name_of(GlassLine, key), "does not agree with its line in the ledger"


@check("bottles that are lent are those on loan")
def _glass_loans() -> Found:
    lent = dict(
        GlassLine.objects.filter(state=GlassState.LENT)
        .order_by()
        .values_list("item")
        .annotate(Sum("change"))
    )
    out = dict(
        Loan.objects.order_by().values_list("item").annotate(out=Sum(F("count") - F("returned")))
    )
    for item in sorted(lent.keys() | out.keys()):
        if lent.get(item, 0) < out.get(item, 0):
            yield name_of(Item, item), f"has {lent.get(item, 0)} lent and {out[item]} on loan"


@check("every picture has its file")
def _pictures() -> Found:
    for photo in Photo.objects.order_by("pk").iterator():
        if not photos.path_of(photo).is_file():
            yield name_of(Photo, photo.pk), f"its file {photo.name} is not there"


@check("no place ever holds less than no bottle of a lot")
def _bottles() -> Found:
    rows = (
        CellarLine.objects.order_by().values("lot__mark", "place__name").annotate(n=Sum("change"))
    )
    for row in rows.filter(n__lt=0):
        yield f"lot {row['lot__mark']}", f"holds {row['n']} at {row['place__name'] or 'no place'}"


@check("every bottle in the cellar is a filled bottle of the house")
def _filled() -> Found:
    laid = dict(CellarLine.objects.order_by().values_list("lot__item").annotate(Sum("change")))
    full = GlassLine.objects.filter(state=GlassState.FILLED).order_by()
    held = dict(full.values_list("item").annotate(Sum("change")))
    for key, count in laid.items():
        if count > held.get(key, 0):
            yield name_of(Item, key), f"{count} lie in the cellar, {held.get(key, 0)} are filled"


@check("what takes a bottle's line back is its exact opposite")
def _bottle_opposites() -> Found:
    for back in CellarLine.objects.filter(undoes__isnull=False).select_related("undoes"):
        first = back.undoes
        if (first.lot_id, first.place_id, first.change) != (
            back.lot_id,
            back.place_id,
            -back.change,
        ):
            yield name_of(CellarLine, back.pk), f"is not the opposite of {first.pk}"
