"""What several tests plan: damson wine in ten steps, and how it is read back."""

import datetime as dt

from planner import batches, recipes
from planner.recipes import LineDraft, StepDraft
from planner.told import Told

LITRE = 1_000_000
SATURDAY = dt.date(2026, 9, 12)
# A must that any yeast bears, where nobody knows what this one does.
AT_20 = Told(must_c=20.0, reason="its packet is lost")

DAMSON_STEPS = [
    StepDraft(key="mash", title="mash", vessel_wanted="open", notes="Keep the stones whole."),
    StepDraft(key="yeast", title="enzyme and yeast", offset_days=1),
    StepDraft(key="press", title="press", offset_days=7, vessel_wanted="closed"),
    StepDraft(key="rack", title="rack", offset_days=28),
    StepDraft(key="rack again", title="rack again", offset_days=91),
    StepDraft(key="check", title="check", offset_days=119),
    StepDraft(key="check again", title="check again", offset_days=122),
    StepDraft(key="stabilise", title="stabilise", offset_days=122),
    StepDraft(key="bottle", title="bottle", offset_days=133),
    StepDraft(key="ready", title="ready", after="bottle", offset_days=180),
]


def damson_version(by, lines=()):
    recipe = recipes.add_recipe(name="Damson", product="still", by=by)
    return recipes.add_version(recipe=recipe, steps=DAMSON_STEPS, lines=list(lines), by=by)


def sugar_line(sugar, *, step="mash", amount=189_000):
    return LineDraft(item=sugar, step=step, basis="per_litre", amount=amount)


def yeast_line(yeast):
    return LineDraft(item=yeast, step="yeast", basis="fixed", amount=1000)


def damson_batch(by, lines=(), **more):
    version = damson_version(by, lines)
    return batches.plan(recipe_version=version, volume=18 * LITRE, start=SATURDAY, by=by, **more)


def step(batch, title):
    return batch.steps.get(title=title)


def days(batch):
    return list(batch.steps.order_by("place").values_list("day", flat=True))


def sequences(batch):
    return list(batch.steps.order_by("place").values_list("sequence", flat=True))
