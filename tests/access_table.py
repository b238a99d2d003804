"""Who may read and write at each address of the site: the one table the access walker reads.

A new address needs one row in ADDRESSES: the lowest role that may read and the lowest that may
write, or PUBLIC. If it is about one thing (its path has a key), add how to make such a thing to
THINGS, under the beginning of its name; the thing is made anew for each address.
"""

import datetime as dt
import io
from collections.abc import Callable

from PIL import Image

from inventory import (
    activity,
    cellar,
    household,
    ledger,
    loans,
    photos,
    receipts,
    requirements,
    substitutes,
)
from inventory.models import CellarLot, Item, Lot, Person, StoragePlace, Vessel
from planner import batches, busy, feeds, patches, picks, readings, recipes, weather
from planner.models import Plant

PUBLIC = "public"
NOBODY = None

ADDRESSES = {
    # signing in
    "inventory:sign-in": PUBLIC,
    "inventory:sign-out": PUBLIC,
    "inventory:password-set": PUBLIC,
    "inventory:health": PUBLIC,
    # household/
    "inventory:household": ("picker", NOBODY),
    "inventory:household-edit": ("keeper", "keeper"),
    "inventory:everything": ("keeper", NOBODY),
    "inventory:person-add": ("keeper", "keeper"),
    "inventory:person-edit": ("keeper", "keeper"),
    "inventory:invitation": ("keeper", "keeper"),
    "inventory:activity-list": ("picker", NOBODY),
    "inventory:activity-undo": (NOBODY, "maker"),
    # words/
    "inventory:glossary": ("guest", NOBODY),
    # me/
    "inventory:preferences": ("guest", "guest"),
    "inventory:password-change": ("guest", "guest"),
    # store/ and items/
    "inventory:store": ("guest", NOBODY),
    "inventory:item-add": ("maker", "maker"),
    "inventory:item-detail": ("guest", NOBODY),
    "inventory:item-edit": ("maker", "maker"),
    "inventory:item-archive": (NOBODY, "maker"),
    # lots/
    "inventory:lot-list": ("guest", NOBODY),
    "inventory:lot-add": ("maker", "maker"),
    "inventory:lot-detail": ("guest", NOBODY),
    "inventory:lot-edit": ("maker", "maker"),
    "inventory:lot-labels": ("maker", NOBODY),
    "inventory:lot-photo": ("maker", "maker"),
    "inventory:lot-use": ("maker", "maker"),
    "inventory:lot-count": ("maker", "maker"),
    "inventory:lot-adjust": ("maker", "maker"),
    "inventory:lot-convert": ("maker", "maker"),
    "inventory:lot-throw": ("maker", "maker"),
    "inventory:photo": ("picker", NOBODY),
    "inventory:sheet-add": ("maker", "maker"),
    "inventory:stocktake-add": ("maker", "maker"),
    # receipts/ and requirements/
    "inventory:receipt-list": ("guest", NOBODY),
    "inventory:receipt-add": ("maker", "maker"),
    "inventory:receipt-arrive": ("maker", "maker"),
    "inventory:receipt-move": ("maker", "maker"),
    "inventory:receipt-cancel": (NOBODY, "maker"),
    "inventory:requirement-add": ("maker", "maker"),
    "inventory:requirement-move": ("maker", "maker"),
    "inventory:requirement-withdraw": (NOBODY, "maker"),
    # shortfalls/ and shopping/
    "inventory:shortfall-list": ("guest", NOBODY),
    "inventory:shopping-list": ("guest", NOBODY),
    "inventory:shopping-receive": (NOBODY, "maker"),
    # glass/ and loans/
    "inventory:glass-list": ("guest", NOBODY),
    "inventory:glass-describe": ("maker", "maker"),
    "inventory:glass-move": ("maker", "maker"),
    "inventory:glass-lend": ("maker", "maker"),
    "inventory:loan-return": ("maker", "maker"),
    # places/, vessels/ and the cellar
    "inventory:place-list": ("guest", NOBODY),
    "inventory:place-add": ("maker", "maker"),
    "inventory:place-edit": ("maker", "maker"),
    "inventory:vessel-list": ("guest", NOBODY),
    "inventory:vessel-add": ("maker", "maker"),
    "inventory:glass-wash": ("maker", "maker"),
    "inventory:substitute-add": ("maker", "maker"),
    "inventory:substitute-remove": (NOBODY, "maker"),
    "inventory:shopping-order": (NOBODY, "maker"),
    "planner:need-instead": (NOBODY, "maker"),
    "inventory:vessel-edit": ("maker", "maker"),
    "inventory:vessel-lend": ("maker", "maker"),
    "inventory:vessel-return": ("maker", "maker"),
    "inventory:vessel-wash": ("maker", "maker"),
    "planner:vessel-weigh": ("maker", "maker"),
    # today, season/ and plants/
    "planner:today": ("guest", NOBODY),
    "planner:search": ("guest", NOBODY),
    "planner:season": ("guest", NOBODY),
    "planner:plant-list": ("guest", NOBODY),
    "planner:plant-detail": ("guest", NOBODY),
    "planner:plant-add": ("maker", "maker"),
    "planner:plant-edit": ("maker", "maker"),
    # weather/ and busy/
    "planner:weather": ("picker", NOBODY),
    "planner:weather-add": ("maker", "maker"),
    "planner:weather-file": ("picker", "maker"),
    "planner:normals-add": ("maker", "maker"),
    "planner:busy-list": ("picker", NOBODY),
    "planner:busy-add": ("maker", "maker"),
    "planner:busy-remove": (NOBODY, "maker"),
    # patches/, observations/ and picks/
    "planner:patch-list": ("picker", NOBODY),
    "planner:patch-add": ("maker", "maker"),
    "planner:patch-detail": ("picker", NOBODY),
    "planner:patch-edit": ("maker", "maker"),
    "planner:observation-add": ("picker", "picker"),
    "planner:pick-list": ("picker", NOBODY),
    "planner:pick-add": ("picker", "picker"),
    "planner:pick-detail": ("picker", "picker"),
    "planner:pick-in-hand": ("picker", NOBODY),
    # recipes/
    "planner:recipe-list": ("guest", NOBODY),
    "planner:recipe-add": ("maker", "maker"),
    "planner:recipe-detail": ("guest", NOBODY),
    "planner:recipe-edit": ("maker", "maker"),
    "planner:version-add": ("maker", "maker"),
    "planner:recipe-version": ("guest", NOBODY),
    "planner:must-reckon": (NOBODY, "maker"),
    "planner:composition": ("maker", "maker"),
    # bench/
    "planner:bench-list": ("guest", NOBODY),
    "planner:bench-sum": ("guest", NOBODY),
    # batches/ and steps/
    "planner:batch-list": ("guest", NOBODY),
    "planner:batch-add": ("maker", "maker"),
    "planner:batch-detail": ("guest", NOBODY),
    "planner:batch-edit": ("maker", "maker"),
    "planner:batch-drop": (NOBODY, "maker"),
    "planner:batch-calendar": ("guest", NOBODY),
    "planner:batch-book": ("guest", NOBODY),
    "planner:reading-add": ("maker", "maker"),
    "planner:reading-strike": ("maker", "maker"),
    "planner:addition-add": ("maker", "maker"),
    "planner:step-move": ("maker", "maker"),
    "planner:batch-volume": ("maker", "maker"),
    "planner:batch-bottle": ("maker", "maker"),
    "planner:batch-vessels": ("maker", "maker"),
    "planner:batch-compare": ("guest", NOBODY),
    "planner:batch-back": ("guest", NOBODY),
    "planner:batch-version": (NOBODY, "maker"),
    "planner:year-back": ("guest", NOBODY),
    "planner:batch-part": ("maker", "maker"),
    "planner:batch-pour": ("maker", "maker"),
    "planner:batch-trace": ("guest", NOBODY),
    "planner:batch-step-add": ("maker", "maker"),
    # cellar/
    "planner:cellar": ("guest", NOBODY),
    "planner:cellar-lot": ("guest", NOBODY),
    "planner:cellar-labels": ("maker", NOBODY),
    "planner:cellar-photo": ("maker", "maker"),
    "planner:cellar-decant": ("maker", "maker"),
    "planner:cellar-take": ("maker", "maker"),
    "planner:cellar-move": ("maker", "maker"),
    "planner:cellar-taste": ("maker", "maker"),
    "planner:lot-trace": ("guest", NOBODY),
    "planner:step-complete": ("maker", "maker"),
    "planner:step-skip": ("maker", "maker"),
    "planner:step-pin": (NOBODY, "maker"),
    # calendar/
    "planner:calendar": ("guest", NOBODY),
    "planner:day-sheet": ("guest", NOBODY),
    "planner:schedule": ("guest", NOBODY),
    "planner:feed-add": (NOBODY, "guest"),
    "planner:feed-delete": (NOBODY, "guest"),
    "planner:feed": PUBLIC,
    # vessels/
    "planner:runs-out": ("guest", NOBODY),
    "planner:vessel-fit": ("guest", NOBODY),
    "planner:vessel-year": ("guest", NOBODY),
    "planner:living": ("keeper", "keeper"),
}


def a_person() -> dict:
    return {"pk": household.add_person(username="ruth", password=None, role="guest").pk}


def an_activity() -> dict:
    done = activity.record(
        by=None, verb="add", subject=Person.objects.first(), summary="Something was done"
    )
    return {"pk": done.pk}


def a_place() -> dict:
    return {"pk": StoragePlace.objects.create(name="Top shelf").pk}


def a_vessel() -> dict:
    return {"pk": Vessel.objects.create(name="Jar 9", kind="closed", brimful=4_750_000).pk}


def an_item():
    return Item.objects.create(name="White sugar", kind="ingredient", base="mg")


def a_lot() -> dict:
    day = dt.date(2026, 4, 6)
    return {"pk": ledger.receive(item=an_item(), quantity=1_000_000, on=day, by=None).pk}


def a_receipt() -> dict:
    day = dt.date(2026, 4, 27)
    return {"pk": receipts.expect(item=an_item(), quantity=1_000_000, due=day, by=None).pk}


def a_bottle():
    return Item.objects.create(name="Bottle 750 mL", kind="bottle", base="mpc")


def a_loan() -> dict:
    bottle, day = a_bottle(), dt.date(2026, 4, 6)
    ledger.receive(item=bottle, quantity=6000, on=day, by=None)
    return {"pk": loans.lend(item=bottle, count=2, to="Nan", on=day, by=None).pk}


def a_requirement() -> dict:
    day = dt.date(2026, 7, 4)
    needed = requirements.need(item=an_item(), quantity=1, day=day, label="jam", by=None)
    return {"pk": needed.pk}


def a_pick() -> dict:
    plant = Plant.objects.create(slug="bramble", common_name="Bramble")
    day = dt.date(2026, 4, 6)
    return {"pk": picks.weigh(plant=plant, on=day, weighings=[(1_386_000, 74_000)], by=None).pk}


def a_recipe():
    recipe = recipes.add_recipe(name="Gorse wine", product="still", by=None)
    steps = [
        recipes.StepDraft(key="1", title="Mash"),
        recipes.StepDraft(key="2", title="Press", offset_days=7),
    ]
    return recipes.add_version(recipe=recipe, steps=steps, lines=[], by=None)


def a_batch():
    start = dt.date(2026, 9, 12)
    return batches.plan(recipe_version=a_recipe(), volume=9_000_000, start=start, by=None)


def a_reading() -> dict:
    batch = a_batch()
    batch.start = dt.date(2026, 4, 1)
    batch.save()
    at = dt.datetime(2026, 4, 6, 12, tzinfo=dt.UTC)
    return {"pk": readings.record(batch=batch, kind="ph", value=3.3, at=at, by=None).pk}


def a_photo() -> dict:
    drawn = io.BytesIO()
    Image.new("RGB", (20, 20)).save(drawn, "PNG")
    lot = Lot.objects.get(pk=a_lot()["pk"])
    return {"pk": photos.keep(data=drawn.getvalue(), of=lot, words="a jar", by=None).pk}


def a_substitute() -> dict:
    honey = Item.objects.create(name="Honey", kind="ingredient", base="mg")
    return {"pk": substitutes.name(item=an_item(), other=honey, factor=1300, by=None).pk}


def a_cellar_lot() -> dict:
    bottle = a_bottle()
    lot = CellarLot.objects.create(
        mark="DA260406-1", name="Damson", origin=a_batch().origin, item=bottle, fill=750_000,
        filled=1, bottled=dt.date(2026, 4, 6),
    )  # fmt: skip
    cellar.write_line(lot, None, "laid", 1, lot.bottled, None)
    return {"pk": lot.pk}


def a_feed() -> dict:
    person = Person.objects.get(username="guest")
    token, _ = feeds.make_token(
        person=person, label="my phone", content="steps", alarm_hours=None, by=None
    )
    return {"pk": token.pk}


# By the beginning of the address's name; the longest that fits is taken.
def a_spell() -> dict:
    first = dt.date(2026, 6, 27)
    return {"pk": busy.add(what="away", first=first, last=first, by=None).pk}


def a_weather_file() -> dict:
    days = [f"2026-01-{day:02},1,8" for day in range(1, 20)]
    data = "\n".join(["date,tmin,tmax", *days]).encode()
    return {"pk": weather.look_at(name="beck.csv", data=data, by=None).pk}


THINGS: dict[str, Callable[[], dict]] = {
    "inventory:activity-": an_activity,
    "inventory:invitation": a_person,
    "inventory:password-set": lambda: {"uidb64": "MQ", "token": "made-up"},
    "inventory:glass-": lambda: {"pk": a_bottle().pk},
    "inventory:item-": lambda: {"pk": an_item().pk},
    "inventory:loan-": a_loan,
    "inventory:lot-": a_lot,
    "inventory:person-": a_person,
    "inventory:photo": a_photo,
    "inventory:place-": a_place,
    "inventory:receipt-": a_receipt,
    "inventory:requirement-": a_requirement,
    "inventory:vessel-": a_vessel,
    "inventory:substitute-add": lambda: {"pk": an_item().pk},
    "inventory:substitute-remove": a_substitute,
    "planner:need-instead": a_requirement,
    "planner:busy-": a_spell,
    "planner:vessel-weigh": a_vessel,
    "planner:weather-file": a_weather_file,
    "planner:patch-": lambda: {"pk": patches.add_patch(name="Beck Bottom", by=None).pk},
    "planner:pick-": a_pick,
    "planner:pick-in-hand": a_lot,
    "planner:lot-trace": a_lot,
    "planner:plant-": lambda: {"slug": Plant.objects.create(slug="sloe", common_name="Sloe").slug},
    "planner:recipe-": lambda: {"pk": a_recipe().recipe_id},
    "planner:recipe-version": lambda: {"pk": a_recipe().recipe_id, "number": 1},
    "planner:version-add": lambda: {"pk": a_recipe().recipe_id},
    "planner:bench-sum": lambda: {"slug": "priming"},
    "planner:cellar-": a_cellar_lot,
    "planner:composition": lambda: {"pk": an_item().pk},
    "planner:must-reckon": lambda: {"pk": a_recipe().recipe_id},
    "planner:batch-": lambda: {"pk": a_batch().pk},
    "planner:reading-": a_reading,
    "planner:step-": lambda: {"pk": a_batch().steps.first().pk},
    "planner:feed-": a_feed,
    "planner:feed": lambda: {"secret": "nobody-knows-it"},
}
