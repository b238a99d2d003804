"""What could still be planned this year: recipes whose plant is open now or opens later?"""

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import date

from planner.harvest import PlantWindow
from planner.models import Recipe, RecipeLine

LAST_DAY = (12, 31)


@dataclass(frozen=True)
class Idea:
    """A recipe and the window of the plant it waits for."""

    recipe: Recipe
    window: PlantWindow


def ideas(windows: Iterable[PlantWindow], *, today: date) -> list[Idea]:
    """Recipes of the house by the last day of their plant, soonest over first; one query.

    Left out is what opens only next year.
    """
    end = date(today.year, *LAST_DAY)
    by_item = {
        window.plant.item_id: window
        for window in windows
        if window.plant.item_id and window.last >= today and window.first <= end
    }
    lines = RecipeLine.objects.filter(item__in=by_item, version__recipe__archived=False)
    found: dict[tuple[int, int], Idea] = {}
    for line in lines.select_related("version__recipe").order_by("version__recipe__name"):
        recipe = line.version.recipe
        found.setdefault((recipe.pk, line.item_id), Idea(recipe, by_item[line.item_id]))
    return sorted(found.values(), key=lambda idea: (idea.window.last, idea.recipe.name))
