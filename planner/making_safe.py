"""Which plants of a recipe must be made safe, and is the step for it in the plan?

Read off the catalogue's own words of the hazard, whose sources stand on the plant's page. A step
counts when its title or notes speak of it; nobody here can see whether it was done well.
"""

import re
from collections.abc import Iterable
from dataclasses import dataclass

from planner.gates import Verdict, making_safe
from planner.models import Plant, RecipeVersion


@dataclass(frozen=True)
class Measure:
    """What takes a poison away: how the catalogue speaks of it, and how a step does."""

    told_by: re.Pattern
    what: str
    done_by: re.Pattern


MEASURES = (
    Measure(
        re.compile(r"\bheat\b", re.IGNORECASE),
        "heating it through",
        re.compile(r"\b(heat|boil|simmer|scald|cook)|\b80 ?°?c\b", re.IGNORECASE),
    ),
    Measure(
        re.compile(r"\bstrip\b|\bleaf blades\b", re.IGNORECASE),
        "taking stalks, leaves and green parts off",
        re.compile(r"\b(strip|strig|stalk|stem|destem|leaf blade|florets?\b)", re.IGNORECASE),
    ),
    Measure(
        re.compile(r"\bkernels?\b|\bstones?\b.*cyanogenic", re.IGNORECASE),
        "keeping the stones whole and straining them off",
        re.compile(r"\b(stone|strain|press|sieve)", re.IGNORECASE),
    ),
)


def verdict(items: Iterable[int], texts: Iterable[str]) -> Verdict:
    """On what the steps of a plan say, for the plants that these items are; one query."""
    plants = Plant.objects.filter(item__in=list(items)).order_by("common_name")
    said = "\n".join(texts)
    return making_safe(
        steps=[
            (f"{plant}: {measure.what}", bool(measure.done_by.search(said)), "")
            for plant in plants
            for measure in MEASURES
            if measure.told_by.search(plant.hazard_text)
        ]
    )


def of_version(version: RecipeVersion) -> Verdict | None:
    """As `verdict`, of a kept version; none where nothing is missing. Three queries."""
    items = version.lines.values_list("item", flat=True)
    texts = [f"{title} {notes}" for title, notes in version.steps.values_list("title", "notes")]
    found = verdict(items, texts)
    return found if found.reasons else None
