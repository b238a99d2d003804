"""Skelder Fold, the demo house: built through the domain functions, so its ledger is true."""

import datetime as dt
import tomllib
from pathlib import Path

from django.db import transaction

from inventory import household, items, ledger, places, receipts, units, vessels
from inventory.models import Item, Person
from planner import (
    batches,
    busy,
    compositions,
    demo_book,
    demo_cellar,
    demo_glass,
    demo_picks,
    demo_weather,
    occupancies,
    plants,
    progress,
    recipes,
    steps,
    volumes,
)
from planner.models import Plant, Step
from planner.told import Told

SCENE = Path(__file__).parent / "data" / "demo.toml"
# Known to everybody who reads it: the demo is served on loopback only.
PASSWORD = "hedge row 12 stile"
SEASON_BEGINS = (4, 1)
AMOUNTS = ("pack", "safety_stock", "teaspoon")
# How many 750 mL bottles a litre fills, in thousandths; arithmetic.
BOTTLES_PER_LITRE = 1334


@transaction.atomic
def build(*, today: dt.date) -> dict[str, Person]:
    """The house as it stands on a day: planned from April on, with all earlier steps done."""
    scene = tomllib.loads(SCENE.read_text())
    season = today.year if (today.month, today.day) >= SEASON_BEGINS else today.year - 1
    people = _people(scene)
    maker = people["maker"]
    plants.load_catalogue(by=people["keeper"])
    shelves = {row["name"]: places.add_place(by=maker, **row) for row in scene["places"]}
    _vessels(scene, maker)
    held = {row["name"]: _item(row, maker) for row in scene["items"]}
    versions = {row["name"]: _recipe(scene, row, held, maker) for row in scene["recipes"]}
    begun = dt.date(season, *SEASON_BEGINS)
    for row in scene["items"]:
        _stock(row, held[row["name"]], shelves, begun, maker)
    for row in scene["compositions"]:
        _composition(row, held, maker)
    demo_picks.gather(scene, held, shelves, season=season, today=today, by=maker)
    demo_weather.bring(house=household.current(), since=season - 5, today=today, by=maker)
    for row in scene["busy"]:
        first, last = (_day(row[end], season) for end in ("first", "last"))
        busy.add(what=row["what"], first=first, last=last, by=maker)
    demo_glass.describe(scene, held, on=begun, by=maker)
    for row in scene["batches"]:
        _batch(row, versions[row["recipe"]], season, maker)
    demo_book.read(scene, today=today, by=maker)
    _live_until(today, maker)
    return people


def _people(scene: dict) -> dict[str, Person]:
    household.settle(**scene["house"])
    return {row["role"]: household.add_person(password=PASSWORD, **row) for row in scene["people"]}


def _vessels(scene: dict, by: Person) -> None:
    for row in scene["vessels"]:
        brimful = units.parse_quantity(row["brimful"], base="uL", name="brimful")
        copies = row.get("copies", 1)
        for number in range(1, copies + 1):
            name = f"{row['name']} {number}" if copies > 1 else row["name"]
            vessels.add_vessel(by=by, name=name, kind=row["kind"], brimful=brimful)


def _amount(text: str, item: Item) -> int:
    return units.parse_quantity(text, name=item.name, **item.measuring)


def _item(row: dict, by: Person) -> Item:
    values = {key: row[key] for key in row if key not in ("stock", "expected", "plant", *AMOUNTS)}
    bare = Item(**values)
    values |= {key: _amount(row[key], bare) for key in AMOUNTS if key in row}
    item = items.add_item(by=by, **values)
    if "plant" in row:
        Plant.objects.filter(slug=row["plant"]).update(item=item)
    return item


def _recipe(scene: dict, row: dict, held: dict[str, Item], by: Person):
    recipe = recipes.add_recipe(name=row["name"], product=row["product"], by=by)
    pattern = scene["patterns"][row["pattern"]]
    drafts = [
        recipes.StepDraft(
            key=step["key"],
            title=step["title"],
            after=step.get("after"),
            offset_days=step["days"],
            weekend=step.get("weekend", "any"),
            vessel_wanted=step.get("vessel", ""),
            notes=step.get("notes", "") or (row.get("begin", "") if step is pattern[0] else ""),
        )
        for step in pattern
    ]
    lines = _lines(row, {step.get("uses", ""): step["key"] for step in pattern}, held)
    return recipes.add_version(recipe=recipe, steps=drafts, lines=lines, by=by, design=_design(row))


def _design(row: dict) -> dict:
    """What a recipe of the scene is reckoned for; strength in tenths of % vol."""
    low, high = row["bears"]
    wishes = {name: row[name] for name in ("sweet", "closing", "steadied") if name in row}
    volume = units.parse_quantity(row["volume"], base="uL", name="volume")
    return {"volume": volume, "bears_low": 10 * low, "bears_high": 10 * high, **wishes}


def _composition(row: dict, held: dict[str, Item], by: Person) -> None:
    values = {name: row[name] for name in ("packaged", "cake", "known", "source")}
    compositions.describe(item=held[row["item"]], by=by, sugar=1000 * row["sugar"], **values)


def _lines(row: dict, uses: dict[str, str], held: dict[str, Item]) -> list[recipes.LineDraft]:
    found = [
        (name, text, basis)
        for basis in ("per_litre", "per_kg_fruit", "fixed")
        for name, text in row.get(basis, {}).items()
    ]
    lines = [
        recipes.LineDraft(
            item=held[name],
            step=uses["yeast"] if held[name].kind in ("yeast", "additive") else "mash",
            basis=basis,
            amount=_amount(text, held[name]),
            is_fruit=name == row["fruit"],
        )
        for name, text, basis in found
    ]
    if "steadying" in uses:
        for name in ("Potassium metabisulphite", "Potassium sorbate"):
            dose = _amount("0.05 g" if "meta" in name else "0.2 g", held[name])
            lines.append(_per_litre(held[name], uses["steadying"], dose))
    closing = {
        "corks": ["Bottle 750 mL", "Cork"],
        "stoppers and cages": ["Fizz bottle 750 mL", "Sparkling stopper", "Cage"],
    }
    for use, names in closing.items():
        if use in uses:
            for name in names:
                lines.append(_per_litre(held[name], uses[use], BOTTLES_PER_LITRE))
    return lines


def _per_litre(item: Item, step: str, amount: int) -> recipes.LineDraft:
    return recipes.LineDraft(item=item, step=step, basis="per_litre", amount=amount)


def _stock(row: dict, item: Item, shelves: dict, begun: dt.date, by: Person) -> None:
    for lot in row.get("stock", []):
        ledger.receive(
            item=item,
            quantity=_amount(lot["quantity"], item),
            on=begun,
            by=by,
            place=shelves[lot["place"]],
            use_by=_day(lot["use_by"], begun.year) if "use_by" in lot else None,
            origin=lot.get("origin", ""),
        )
    for order in row.get("expected", []):
        receipts.expect(
            item=item,
            quantity=_amount(order["quantity"], item),
            due=_day(order["day"], begun.year),
            by=by,
            shop=item.shop,
        )


def _day(text: str, season: int) -> dt.date:
    """A month and day within the season that begins in April of a year."""
    month, day = (int(part) for part in text.split("-"))
    return dt.date(season if (month, day) >= SEASON_BEGINS else season + 1, month, day)


def _batch(row: dict, version, season: int, by: Person) -> None:
    start = _day(row["start"], season + bool(row.get("next")))
    batches.plan(
        recipe_version=version,
        volume=units.parse_quantity(row["volume"], base="uL", name="volume"),
        start=start,
        by=by,
        vessels=occupancies.AUTO,
    )


def _live_until(today: dt.date, by: Person) -> None:
    """Do every step before today, buying on the day what was still missing."""
    waiting = Step.objects.filter(state=Step.State.TO_DO, day__lt=today).order_by("day", "id")
    for step in waiting.select_related("batch"):
        _buy_what_lacks(step, by)
        if not demo_cellar.fill(step, by=by):
            steps.complete_step(step=step, on=step.day, by=by, told=_told(step))
    demo_cellar.drink(today=today, by=by)


def _told(step: Step) -> Told:
    """What is read off in the scene: the must at 21 °C, and what each step leaves behind."""
    there = volumes.of_batch(step.batch).amount
    word = progress.first_word(step.title)
    kept = {"mash": 1000, "rack": 985}.get(word)
    return Told(
        must_c=21.0,
        volume=there * kept // 1000 if kept else None,
        reason="the bucket has held it in other years",
    )


def _buy_what_lacks(step: Step, by: Person) -> None:
    for need in step.needs.select_related("requirement__item"):
        wanted = need.requirement
        usable = sum(
            lot.on_hand
            for lot in wanted.item.lots.in_stock()
            if lot.use_by is None or lot.use_by >= step.day
        )
        if usable < wanted.quantity:
            lacking = wanted.quantity - usable
            packs = -(-lacking // wanted.item.pack)
            ledger.receive(item=wanted.item, quantity=packs * wanted.item.pack, on=step.day, by=by)
