"""The bottles of the demo house: filled on their days, and a few opened since."""

import datetime as dt

from inventory import cellar
from inventory.models import CellarLot, Lot, Person, StoragePlace
from planner import book as books
from planner import bottling, bottling_plan, progress, tastings
from planner.bottling import Done
from planner.bottling_plan import Wish
from planner.models import Batch, Step

VOLUMES, WARMEST_C = 3.0, 18.0
OPENED_AFTER = dt.timedelta(days=30)


def fill(step: Step, *, by: Person) -> bool:
    """Bottle the batch if this is the step for it; False where it is another step."""
    kinds = step.needs.values_list("requirement__item__kind", flat=True)
    if progress.brings_to(step.title, kinds) != Batch.State.IN_GLASS:
        return False
    batch = Batch.objects.select_related("recipe_version__recipe").get(pk=step.batch_id)
    book = books.of_batch(batch)
    fizzy = batch.recipe_version.closing == "fizz"
    wish = Wish(
        aim="biggest",
        is_fizzy=fizzy,
        volumes=VOLUMES if fizzy else None,
        warmest_c=WARMEST_C if fizzy else None,
        abv=book.strength.value,
        lower=True,
        hose=100_000,
        place=StoragePlace.objects.get(name="Under the stairs"),
    )
    plan = bottling_plan.plan(batch, book, wish)
    sugar = Lot.objects.in_stock().filter(item__name="White sugar", on_hand__gt=200_000)
    done = Done(
        counts={line.item.pk: line.count for line in plan.lines},
        priming_lot=sugar.first() if fizzy else None,
        reason="as in other years",
        planned=plan.bottles,
    )
    bottling.bottle(batch=batch, wish=wish, done=done, on=step.day, by=by)
    return True


def drink(*, today: dt.date, by: Person) -> None:
    """One bottle of what has lain a month is opened and tasted."""
    for lot in CellarLot.objects.order_by("pk"):
        day = lot.bottled + OPENED_AFTER
        if day > today:
            continue
        place = StoragePlace.objects.get(name="Under the stairs")
        cellar.take(lot=lot, fate="opened", count=1, on=day, by=by, place=place)
        batch = Batch.objects.select_related("recipe_version").get(name=lot.name)
        tastings.taste(
            batch=batch,
            lot=lot,
            on=day,
            liking=4,
            by=by,
            words="Of the hedge on the nose, short at the end.",
            wishes={word: word != "lasting" for word in tastings.wishes_of(batch)},
            again=True,
            lesson="leave it a month longer on the fruit",
        )
