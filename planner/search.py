"""Which plants, recipes and batches can be found, and by which words?"""

from inventory.models import CellarLot
from inventory.search import Source, register
from planner.models import Batch, Plant, Recipe


def _about_plant(plant: Plant) -> str:
    return ", ".join(part for part in (plant.part, plant.latin_name) if part)


def _about_recipe(recipe: Recipe) -> str:
    return recipe.get_product_display() + (", archived" if recipe.archived else "")


def _about_batch(batch: Batch) -> str:
    return f"{batch.get_state_display()}, begins {batch.start.day} {batch.start:%b %Y}"


def _about_bottles(lot: CellarLot) -> str:
    return f"{lot.mark}, filled {lot.bottled.day} {lot.bottled:%b %Y}"


register(
    Source(
        noun="Plants",
        rows=Plant.objects.all,
        title=("common_name",),
        words=("latin_name", "part", "uses", "notes", "hazard_text", "look_alikes"),
        about=_about_plant,
    )
)
register(
    Source(
        noun="Recipes",
        rows=Recipe.objects.all,
        title=("name",),
        words=("product", "notes"),
        about=_about_recipe,
    )
)
register(
    Source(
        noun="Batches",
        rows=Batch.objects.all,
        title=("name",),
        words=("recipe_version__recipe__name", "notes"),
        about=_about_batch,
    )
)
register(
    Source(
        noun="Bottles",
        rows=CellarLot.objects.all,
        title=("mark", "name"),
        words=("item__name", "contains"),
        about=_about_bottles,
        fetched=lambda lots: lots.select_related("item"),
    )
)
