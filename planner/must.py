"""What is in the must, how dense is it, and what must change to make it what is wanted?"""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from planner.chemistry.acidity import CONVERSION_RULE, convert_g_per_l
from planner.chemistry.composition import Composition
from planner.chemistry.density import sugar_solution_kg_per_m3
from planner.chemistry.figure import Figure, Rule, trusted, unknown
from planner.chemistry.gravity import brix_of_gravity
from planner.chemistry.ranges import within
from planner.chemistry.sugar import (
    CONCENTRATION_RULE,
    WATER_KG_PER_L,
    brix_of_sugar,
    gravity_of_sugar,
    sugar_of_gravity_g_per_l,
)
from planner.chemistry.sums import bounds, carried, total

MUST_RULE = Rule(
    "mass balance of the must",
    "conservation of mass; ICUMSA SPS-4 for the room of dissolved sugar",
    "all sugar of the fruit counted as dissolved, as sucrose; 20 degC",
)
SPACE_RULE = Rule(
    "must with its fruit",
    "conservation of mass; fruit taken as 1 kg/L",
    "before pressing; foam not counted",
)

PER_100_G = "g/100 g"
NOT_KNOWN = unknown(PER_100_G)


@dataclass(frozen=True, slots=True)
class Ingredient:
    """A mass with what is known of it, in grams (nitrogen in milligrams) per 100 g.

    `cake` is the litres that each kilogram leaves in the press or the bag.
    """

    name: str
    mass_kg: float
    sugar: Figure = NOT_KNOWN
    water: Figure = NOT_KNOWN
    acid: Figure = NOT_KNOWN
    acid_as: str = "tartaric"
    tannin: Figure = NOT_KNOWN
    nitrogen: Figure = unknown("mg/100 g")
    cake: Figure = unknown("L/kg")

    def __post_init__(self) -> None:
        within(self.mass_kg, 0, 100_000, name=f"mass of {self.name}", unit="kg")
        within(self.sugar.value or 0, 0, 100, name=f"sugar of {self.name}", unit=PER_100_G)


@dataclass(frozen=True, slots=True)
class Balance:
    """A must in figures; `water_l` is what is poured in, `with_fruit_l` the room before pressing."""

    volume_l: Figure
    water_l: Figure
    sugar_kg: Figure
    sugar_g_per_l: Figure
    gravity: Figure
    acid_g_per_l: Figure
    tannin_g_per_l: Figure
    nitrogen_mg_per_l: Figure
    with_fruit_l: Figure


def bag_sugar(mass_kg: float, *, name: str = "sugar") -> Ingredient:
    """Granulated sugar: sucrose and nothing else."""
    source = "granulated sugar is sucrose, common practice"
    whole, none = trusted(100.0, PER_100_G, source=source), trusted(0.0, PER_100_G, source=source)
    return Ingredient(
        name,
        mass_kg,
        whole,
        none,
        none,
        "tartaric",
        none,
        none,
        trusted(0.0, "L/kg", source=source),
    )


def fruit(composition: Composition, mass_kg: float) -> Ingredient:
    """A fruit, honey or sap as the packaged table has it; tannin and nitrogen are not known."""
    return Ingredient(
        composition.item,
        mass_kg,
        composition.sugar,
        composition.water,
        composition.acid,
        composition.acid_as or "tartaric",
    )


def juice(
    name: str, *, volume_l: float, gravity: float, source: str, acid: Figure = NOT_KNOWN
) -> Ingredient:
    """A juice by volume and gravity, all of it sugar and water."""
    within(volume_l, 0, 100_000, name=f"volume of {name}", unit="L")
    brix = brix_of_gravity(gravity=gravity)
    return Ingredient(
        name,
        volume_l * gravity * WATER_KG_PER_L,
        trusted(brix, PER_100_G, source=source),
        trusted(100 - brix, PER_100_G, source=source),
        acid,
        cake=trusted(0.0, "L/kg", source=source),
    )


def _sum(ingredients: Sequence[Ingredient], part: str, *, unit: str, factor: float) -> Figure:
    parts = ((each.name, each.mass_kg * factor, getattr(each, part)) for each in ingredients)
    return total(parts, unit=unit, rule=MUST_RULE)


def sugar_of(ingredients: Sequence[Ingredient]) -> Figure:
    """All the sugar, in kilograms."""
    return _sum(ingredients, "sugar", unit="kg", factor=0.01)


def balance(ingredients: Sequence[Ingredient], *, volume_l: float) -> Balance:
    """The must made up to a volume with water."""
    within(volume_l, 0.1, 100_000, name="volume of the must", unit="L")
    return _balance(ingredients, trusted(volume_l, "L", source="wanted"), None)


def balance_of_water(ingredients: Sequence[Ingredient], *, water_l: float) -> Balance:
    """The must that so much water makes; not known while an ingredient's water or sugar is not."""
    within(water_l, 0, 100_000, name="water", unit="L")
    poured = trusted(water_l, "L", source="wanted")
    sugar = sugar_of(ingredients)
    own_water = _sum(ingredients, "water", unit="kg", factor=0.01)
    if not (sugar.is_known and own_water.is_known):
        return _balance(ingredients, MUST_RULE.unknown("L"), poured)
    mass_kg = water_l * WATER_KG_PER_L + own_water.value + sugar.value
    within(mass_kg, 0.1, 100_000, name="mass of the must", unit="kg")
    density = sugar_solution_kg_per_m3(sugar_share=sugar.value / mass_kg)
    volume = MUST_RULE.figure(1000 * mass_kg / density, "L")
    return _balance(ingredients, volume, poured)


def _balance(ingredients: Sequence[Ingredient], volume: Figure, poured: Figure | None) -> Balance:
    sugar = sugar_of(ingredients)
    litres = volume.value

    def per_litre(figure: Figure, unit: str) -> Figure:
        if litres is None:
            return MUST_RULE.unknown(unit)
        return carried(figure, lambda amount: amount / litres, unit=unit, rule=MUST_RULE)

    strength = per_litre(_scaled(sugar, 1000, "g"), "g/L")
    gravity = carried(
        strength,
        lambda grams: gravity_of_sugar(sugar_g_per_l=grams),
        unit="SG",
        rule=CONCENTRATION_RULE,
    )
    return Balance(
        volume_l=volume,
        water_l=poured or _water_to_pour(ingredients, sugar, litres),
        sugar_kg=sugar,
        sugar_g_per_l=strength,
        gravity=gravity,
        acid_g_per_l=per_litre(_acid_of(ingredients), "g/L as tartaric"),
        tannin_g_per_l=per_litre(_sum(ingredients, "tannin", unit="g", factor=10), "g/L"),
        nitrogen_mg_per_l=per_litre(_sum(ingredients, "nitrogen", unit="mg", factor=10), "mg N/L"),
        with_fruit_l=_with_fruit(ingredients, volume),
    )


def _scaled(figure: Figure, factor: float, unit: str) -> Figure:
    return carried(figure, lambda number: number * factor, unit=unit, rule=MUST_RULE)


def _acid_of(ingredients: Sequence[Ingredient]) -> Figure:
    parts = (
        (
            each.name,
            10
            * convert_g_per_l(acid_g_per_l=1, from_acid=each.acid_as, to_acid="tartaric")
            * each.mass_kg,
            each.acid,
        )
        for each in ingredients
    )
    return total(parts, unit="g", rule=CONVERSION_RULE)


def _water_in_kg(volume_l: float, sugar_kg: float) -> float:
    brix = brix_of_sugar(sugar_g_per_l=1000 * sugar_kg / volume_l)
    return volume_l * sugar_solution_kg_per_m3(sugar_share=brix / 100) / 1000 - sugar_kg


def _water_to_pour(
    ingredients: Sequence[Ingredient], sugar: Figure, volume_l: float | None
) -> Figure:
    """Water beyond what the ingredients bring; unknown water leaves it unknown but bounded."""
    if volume_l is None or not sugar.is_known:
        return MUST_RULE.unknown("L")
    wanted = _water_in_kg(volume_l, sugar.value)
    parts = [(each.name, each.mass_kg / 100, _water_or_bounds(each)) for each in ingredients]
    own = total(parts, unit="kg", rule=MUST_RULE)
    return carried(own, lambda kg: (wanted - kg) / WATER_KG_PER_L, unit="L", rule=MUST_RULE)


def _water_or_bounds(ingredient: Ingredient) -> Figure:
    if ingredient.water.is_known:
        return ingredient.water
    most = 100 - (bounds(ingredient.sugar)[0] or 0.0)
    return unknown(PER_100_G, source=ingredient.water.source, low=0.0, high=most)


def _with_fruit(ingredients: Sequence[Ingredient], volume: Figure) -> Figure:
    if not volume.is_known:
        return SPACE_RULE.unknown("L")
    cakes = (
        (each.name, each.mass_kg, each.cake if each.cake.is_known else unknown("L/kg", high=1.0))
        for each in ingredients
    )
    cake = total(cakes, unit="L", rule=SPACE_RULE)
    return carried(cake, lambda litres: volume.value + litres, unit="L", rule=SPACE_RULE)


def _fixed_and_share(
    ingredients: Sequence[Ingredient], adjust: str
) -> tuple[Ingredient, float, float]:
    """The ingredient to change, its sugar share, and the sugar of all the others."""
    chosen = next((each for each in ingredients if each.name == adjust), None)
    if chosen is None:
        raise ValueError(f"{adjust} is not in the must")
    others = sugar_of([each for each in ingredients if each is not chosen])
    missing = [each.name for each in ingredients if not each.sugar.is_known]
    if missing:
        raise ValueError(
            f"the sugar of {', '.join(missing)} is not known: measure it or type it in"
        )
    if not chosen.sugar.value:
        raise ValueError(f"{adjust} brings no sugar")
    return chosen, chosen.sugar.value / 100, others.value


def solve_sugar(
    ingredients: Sequence[Ingredient], *, volume_l: float, gravity: float, adjust: str = "sugar"
) -> tuple[Ingredient, ...]:
    """The same must with one ingredient changed so that the volume has the gravity wanted."""
    chosen, share, others_kg = _fixed_and_share(ingredients, adjust)
    wanted_kg = volume_l * sugar_of_gravity_g_per_l(gravity=gravity) / 1000
    if wanted_kg < others_kg:
        raise ValueError(
            f"the others already hold {others_kg:.3f} kg of sugar, more than the {wanted_kg:.3f} "
            f"kg that {gravity:.4f} wants in {volume_l:g} L: make more must or use less of them"
        )
    changed = replace(chosen, mass_kg=(wanted_kg - others_kg) / share)
    return tuple(changed if each is chosen else each for each in ingredients)


def solve_volume(ingredients: Sequence[Ingredient], *, gravity: float) -> float:
    """The volume at which all the sugar gives the gravity wanted."""
    sugar = sugar_of(ingredients)
    if not sugar.is_known:
        raise ValueError("the sugar of the must is not known, so no volume follows from it")
    return (
        1000
        * sugar.value
        / sugar_of_gravity_g_per_l(gravity=within(gravity, 1.0005, 1.2, name="wanted gravity"))
    )


def scaled(ingredients: Sequence[Ingredient], *, factor: float) -> tuple[Ingredient, ...]:
    """Every mass times a factor."""
    within(factor, 1e-4, 1e4, name="factor")
    return tuple(replace(each, mass_kg=each.mass_kg * factor) for each in ingredients)


def factor_for_pick(ingredients: Sequence[Ingredient], *, name: str, mass_kg: float) -> float:
    """The factor that uses all of a pick."""
    held = sum(each.mass_kg for each in ingredients if each.name == name)
    if not held:
        raise ValueError(f"{name} is not in the must")
    return within(mass_kg, 1e-6, 100_000, name=f"mass of {name}", unit="kg") / held


def factor_for_vessel(*, needs_l: float, brimful_l: float, foam_share: float = 0.0) -> float:
    """The factor that fills a vessel up to its foam room; `needs_l` is the room wanted now."""
    within(foam_share, 0, 0.5, name="foam room")
    within(needs_l, 0.01, 100_000, name="room wanted", unit="L")
    return brimful_l * (1 - foam_share) / needs_l
