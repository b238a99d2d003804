"""What does the house make, and how: recipes and their versions."""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from django.core.exceptions import ValidationError
from django.db import models, transaction
from django.utils.text import capfirst

from inventory import activity
from inventory.models import Item, Person
from inventory.models.items import BaseUnit
from inventory.models.limits import MOST
from inventory.models.vessels import VesselKind
from inventory.refusals import Refusal
from inventory.values import check_columns, refusal
from planner import schedule
from planner.models import Basis, Recipe, RecipeLine, RecipeVersion, StepTemplate
from planner.models.recipes import Product, Weekend
from planner.must_design import NO_FERMENT, wishes_of
from planner.schedule import ScheduleRefusal, StepRule
from planner.schedule.rules import refuse_bad_rules
from planner.wishes import STOP, judge

TEMPLATE_FIELDS = (
    "title",
    "offset_days",
    "least_days",
    "most_days",
    "weekend",
    "vessel_wanted",
    "when_still",
    "times",
    "every_days",
    "notes",
)
RULE_FIELDS = ("title", "offset_days", "least_days", "most_days", "weekend")
DESIGN_FIELDS = (
    "volume",
    "gravity",
    "sweet",
    "closing",
    "steadied",
    "loss",
    "bears_low",
    "bears_high",
)
LINE_FIELDS = ("item", "basis", "amount", "is_fruit", "note")


@dataclass(frozen=True, kw_only=True)
class StepDraft:
    """A step as typed: so many days after the start, or after the step whose key it names."""

    key: str
    title: str
    after: str | None = None
    offset_days: int = 0
    least_days: int | None = None
    most_days: int | None = None
    weekend: str = Weekend.ANY
    vessel_wanted: str = ""
    when_still: bool = False
    times: int = 1
    every_days: int = 1
    notes: str = ""


@dataclass(frozen=True, kw_only=True)
class LineDraft:
    """An ingredient as typed: `amount` in thousandths of its base unit, `step` a step's key."""

    item: Item
    step: str
    basis: str
    amount: int
    is_fruit: bool = False
    note: str = ""


@transaction.atomic
def add_recipe(*, name: str, product: str, by: Person | None, notes: str = "") -> Recipe:
    """A recipe without versions yet; atomic, leaves an activity."""
    name = name.strip()
    if not name:
        raise Refusal("A recipe needs a name.", field="name")
    if product not in Product.values:
        raise Refusal(f"{product!r} is not a kind of drink made here.", field="product")
    if Recipe.objects.filter(name__iexact=name).exists():
        raise Refusal(f"There is a recipe called {name} already.", field="name")
    recipe = Recipe.objects.create(name=name, product=product, notes=notes)
    activity.record(by=by, verb="add", subject=recipe, summary=f"Added the recipe {recipe}")
    return recipe


@transaction.atomic
def archive(*, recipe: Recipe, by: Person | None, archived: bool = True) -> Recipe:
    """Take a recipe off the list, or put it back; its batches keep it."""
    Recipe.objects.filter(pk=recipe.pk).update(archived=archived, version=models.F("version") + 1)
    recipe.refresh_from_db()
    activity.record(
        by=by,
        verb="archive" if archived else "restore",
        subject=recipe,
        summary=f"{'Put away' if archived else 'Took out again'} the recipe {recipe}",
        undo="archive recipe",
        undo_data={"recipe": recipe.pk, "archived": not archived},
    )
    return recipe


@activity.undoes("archive recipe")
def _undo_archive(data: dict, by: Person | None) -> None:
    Recipe.objects.filter(pk=data["recipe"]).update(
        archived=data["archived"], version=models.F("version") + 1
    )


@transaction.atomic
def add_version(
    *,
    recipe: Recipe,
    steps: list[StepDraft],
    lines: list[LineDraft],
    by: Person | None,
    parent: RecipeVersion | None = None,
    reason: str = "",
    design: Mapping[str, Any] | None = None,
) -> RecipeVersion:
    """The next version of a recipe with its steps and ingredients; atomic, leaves an activity.

    `design` says by DESIGN_FIELDS what it was reckoned for and what is wished of it.
    """
    refuse_bad_drafts(steps, lines)
    held = Recipe.objects.select_for_update().get(pk=recipe.pk)
    if parent is not None and parent.recipe_id != held.pk:
        raise Refusal(f"{parent} is not a version of {held}.", field="parent")
    last = held.versions.aggregate(last=models.Max("number"))["last"] or 0
    version = RecipeVersion(
        recipe=held, number=last + 1, parent=parent, reason=reason, made_by=by, **(design or {})
    )
    _check_design(version)
    version.save(force_insert=True)
    _write_drafts(version, steps, lines)
    activity.record(by=by, verb="add", subject=version, summary=f"Wrote {version}")
    return version


@transaction.atomic
def change_version(
    *,
    version: RecipeVersion,
    steps: list[StepDraft],
    lines: list[LineDraft],
    by: Person | None,
    reason: str | None = None,
    design: Mapping[str, Any] | None = None,
) -> RecipeVersion:
    """Replace what an unused version says; one that a batch used is refused."""
    refuse_bad_drafts(steps, lines)
    # Planning a batch locks the recipe too, so no batch can begin to use it meanwhile.
    Recipe.objects.select_for_update().get(pk=version.recipe_id)
    if version.batches.exists():
        raise Refusal(f"{version} has been used by a batch and stays as it is: write a new one.")
    version.refresh_from_db()
    version.lines.all().delete()
    version.steps.all().delete()
    version.reason = version.reason if reason is None else reason
    version.version += 1
    for name, value in (design or {}).items():
        setattr(version, name, value)
    _check_design(version)
    version.save(update_fields=["reason", "version", *DESIGN_FIELDS])
    _write_drafts(version, steps, lines)
    activity.record(by=by, verb="edit", subject=version, summary=f"Changed {version}")
    return version


def _check_design(version: RecipeVersion) -> None:
    check_columns(version, DESIGN_FIELDS)
    try:
        version.validate_constraints()
    except ValidationError as error:
        raise refusal(error) from None
    if version.recipe.product in NO_FERMENT:
        return
    for verdict in judge(wishes_of(version), left_low_g_per_l=None, left_high_g_per_l=None):
        if verdict.level == STOP:
            ways = "; ".join(verdict.ways_out)
            raise Refusal(f"{capfirst(verdict.reason)}. Ways out: {ways}.", field="sweet")


def drafts_of(version: RecipeVersion) -> tuple[list[StepDraft], list[LineDraft]]:
    """What a version says, as it could be typed again; two queries."""
    templates = list(version.steps.order_by("place"))
    keys = {template.pk: str(template.place) for template in templates}
    steps = [
        StepDraft(
            key=keys[template.pk],
            after=keys.get(template.after_id),
            **{field: getattr(template, field) for field in TEMPLATE_FIELDS},
        )
        for template in templates
    ]
    lines = [
        LineDraft(
            step=keys[line.step_id],
            **{field: getattr(line, field) for field in LINE_FIELDS},
        )
        for line in version.lines.select_related("item").order_by("step__place", "id")
    ]
    return steps, lines


def rule_of(source: StepDraft | StepTemplate, *, key: str, anchor: str | None, **own) -> StepRule:
    """A step of a recipe as the schedule knows it; `own` stands in place of the recipe's."""
    says = {field: getattr(source, field) for field in RULE_FIELDS} | own
    weekend = schedule.Weekend(says.pop("weekend"))
    return StepRule(key=key, anchor=anchor, weekend=weekend, **says)


def rules_of(templates: Iterable[StepTemplate]) -> list[StepRule]:
    """The written steps of a version, in order, as the schedule knows them; no query."""
    return [
        rule_of(template, key=str(template.pk), anchor=template.after_id and str(template.after_id))
        for template in templates
    ]


def refuse_bad_drafts(steps: list[StepDraft], lines: list[LineDraft]) -> None:
    """Refuse a recipe that could not be laid out in days or reckoned in quantities."""
    if not steps:
        raise Refusal("A version needs at least one step.", field="steps")
    for step in steps:
        _refuse_bad_step(step)
    try:
        refuse_bad_rules([rule_of(step, key=step.key, anchor=step.after) for step in steps])
    except ScheduleRefusal as problem:
        raise Refusal(str(problem), field="steps") from problem
    keys = {step.key for step in steps}
    has_fruit = any(line.is_fruit for line in lines)
    for line in lines:
        _refuse_bad_line(line, keys, has_fruit)


def _refuse_bad_step(step: StepDraft) -> None:
    if not step.title.strip():
        raise Refusal("Every step needs a title.", field="steps")
    if step.weekend not in Weekend.values:
        raise Refusal(f"{step.title}: {step.weekend!r} is no rule for weekends.", field="steps")
    if step.vessel_wanted not in ("", *VesselKind.values):
        raise Refusal(f"{step.title}: {step.vessel_wanted!r} is no kind of vessel.", field="steps")


def _refuse_bad_line(line: LineDraft, keys: set[str], has_fruit: bool) -> None:
    problem = ""
    if line.step not in keys:
        problem = "say at which step it goes in."
    elif line.basis not in Basis.values:
        problem = f"{line.basis!r} is no way to reckon it."
    elif not 1 <= line.amount <= MOST:
        problem = "the amount must be more than nothing and within a thousand tonnes."
    elif line.is_fruit and line.item.base != BaseUnit.MASS:
        problem = "fruit is reckoned by weight, and this item is not."
    elif line.is_fruit and line.basis == Basis.PER_KG_FRUIT:
        problem = "fruit cannot be reckoned per kg of fruit."
    elif line.basis == Basis.PER_KG_FRUIT and not has_fruit:
        problem = "it goes per kg of fruit, and no line is marked as fruit."
    if problem:
        raise Refusal(f"{line.item}: {problem}", field="lines")


def _write_drafts(version: RecipeVersion, steps: list[StepDraft], lines: list[LineDraft]) -> None:
    templates = StepTemplate.objects.bulk_create(
        StepTemplate(
            version=version,
            place=place,
            **{field: getattr(draft, field) for field in TEMPLATE_FIELDS},
        )
        for place, draft in enumerate(steps, start=1)
    )
    by_key = {draft.key: template for draft, template in zip(steps, templates, strict=True)}
    _tie_to_anchors(steps, by_key)
    RecipeLine.objects.bulk_create(
        RecipeLine(
            version=version,
            step=by_key[draft.step],
            **{field: getattr(draft, field) for field in LINE_FIELDS},
        )
        for draft in lines
    )


def _tie_to_anchors(steps: list[StepDraft], by_key: dict[str, StepTemplate]) -> None:
    anchored = [by_key[draft.key] for draft in steps if draft.after is not None]
    for draft in steps:
        if draft.after is not None:
            by_key[draft.key].after = by_key[draft.after]
    StepTemplate.objects.bulk_update(anchored, ["after"])
