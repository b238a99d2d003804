"""How much of each item does a batch of a certain size need?"""

from collections.abc import Iterable
from fractions import Fraction
from math import ceil

from inventory import requirements
from inventory.models import Person, Requirement
from inventory.models.items import BaseUnit
from inventory.requirements import Need
from planner.models import Basis, Batch, RecipeLine, RecipeVersion, Step, StepNeed

Lines = list[tuple[RecipeLine, int]]

LABEL_LENGTH = Requirement._meta.get_field("label").max_length
MICROLITRES_PER_LITRE = 1_000_000
MILLIGRAMS_PER_KILO = 1_000_000
# Thousandths of a piece in a whole one.
WHOLE_PIECE = 1000


def explode(version: RecipeVersion, volume_ul: int) -> Lines:
    """Each line of the version with its quantity in the item's base unit; one query.

    Exact: rounded once, upwards, to a whole thousandth of a gram or millilitre or a whole piece.
    """
    return quantities(version.lines.select_related("item", "step"), volume_ul)


def quantities(lines: Iterable[RecipeLine], volume_ul: int) -> Lines:
    """As `explode`, of lines that are at hand; no query."""
    lines = list(lines)
    amounts = amounts_of(lines, volume_ul)
    return [(line, _rounded_up(line, amount)) for line, amount in zip(lines, amounts, strict=True)]


def amounts_of(lines: Iterable, volume_ul: int) -> list[Fraction]:
    """The exact quantity of each line, written or drafted, in its item's base unit; no query."""
    lines = list(lines)
    litres = Fraction(volume_ul, MICROLITRES_PER_LITRE)
    kilos = fruit_kilos(lines, litres)
    return [_exact(line, litres, kilos) for line in lines]


def fruit_kilos(lines: Iterable[RecipeLine], litres: Fraction) -> Fraction:
    """Mass of the fruit that other lines are reckoned by; fruit is never reckoned by itself."""
    milligrams = (_exact(line, litres, Fraction(0)) for line in lines if line.is_fruit)
    return sum(milligrams, Fraction(0)) / MILLIGRAMS_PER_KILO


def _exact(line: RecipeLine, litres: Fraction, kilos: Fraction) -> Fraction:
    times = {Basis.PER_LITRE: litres, Basis.PER_KG_FRUIT: kilos, Basis.FIXED: Fraction(1)}
    return line.amount * times[Basis(line.basis)]


def _rounded_up(line: RecipeLine, quantity: Fraction) -> int:
    step = WHOLE_PIECE if line.item.base == BaseUnit.PIECES else 1
    return ceil(quantity / step) * step


def ask(*, batch: Batch, steps: Iterable[Step], lines: Lines, by: Person | None) -> None:
    """Ask the store for each line on the day of its step, and tie the two together.

    The same number of queries whatever the number of lines; leaves no activity of its own.
    """
    by_template = {step.template_id: step for step in steps}
    needs = [
        Need(
            item=line.item,
            quantity=quantity,
            day=by_template[line.step_id].day,
            label=label_of(by_template[line.step_id]),
            origin=batch.origin,
            link=by_template[line.step_id].get_absolute_url(),
        )
        for line, quantity in lines
    ]
    asked = requirements.need_all(needs=needs, by=by, quiet=True)
    StepNeed.objects.bulk_create(
        StepNeed(step=by_template[line.step_id], requirement=row)
        for (line, _), row in zip(lines, asked, strict=True)
    )


def relabel(steps: Iterable[Step]) -> None:
    """Let the requirements of these steps carry their present names."""
    labels = {step.pk: label_of(step) for step in steps}
    ties = StepNeed.objects.filter(step__in=labels).values_list("requirement_id", "step_id")
    requirements.relabel(labels={need: labels[step] for need, step in ties})


def label_of(step: Step) -> str:
    return str(step)[:LABEL_LENGTH]
