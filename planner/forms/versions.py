"""A version of a recipe as one form: what it is reckoned for, what goes in, and its steps."""

from collections.abc import Iterator

from django.db import models

from inventory import units
from inventory.models import Item
from inventory.refusals import Refusal
from planner import recipes
from planner.forms.must import DesignForm
from planner.forms.recipes import LINES, MOST_ROWS, SPARE_ROWS, STEPS, LineRow, ReasonForm, StepRow
from planner.models import RecipeVersion


class VersionForms:
    """The reason, the design, the steps and the lines as one form; "more rows" checks nothing.

    While it is only `reckoning`, rows that cannot be read yet are passed over.
    """

    def __init__(self, request, *, parent: RecipeVersion | None, typed=None, reckoning=False):
        self.person, self.parent, self.reckoning = request.user, parent, reckoning
        posted = request.POST if request.method == "POST" else None
        self.typed = posted if typed is None else typed
        self.wants_more = self.typed is not None and "more" in self.typed
        self.is_bound = self.typed is not None and not self.wants_more
        self.refused: list[str] = []
        self.kept_lines: list[recipes.LineDraft] = []
        data = self.typed if self.is_bound else None
        self.reason = ReasonForm(data, person=self.person)
        self.design = DesignForm(data, person=self.person, initial=self._design_initial())
        if self.wants_more:
            self.reason.initial = {"reason": self.typed.get("reason", "")}
        steps, lines = self._initial()
        self.steps = self._rows(STEPS, "steps", steps)
        self.items = self._items()
        self.lines = self._rows(LINES, "lines", lines, items=self.items)

    def _design_initial(self) -> dict:
        if self.wants_more:
            return {name: self.typed.get(name, "") for name in DesignForm.base_fields}
        return DesignForm.initial_of(self.parent)

    def _items(self) -> dict[str, Item]:
        """What may go in, read once for all rows: what is kept, and what the parent used."""
        kept = models.Q(archived=False) | models.Q(recipe_lines__version=self.parent)
        found = Item.objects.filter(kept if self.parent else models.Q(archived=False))
        return {str(item.pk): item for item in found.distinct()}

    def _rows(self, factory, prefix, initial, **more):
        kwargs = {"prefix": prefix, "form_kwargs": {"person": self.person, **more}}
        if self.is_bound:
            return factory(self.typed, **kwargs)
        rows = factory(initial=initial, **kwargs)
        rows.extra = SPARE_ROWS
        return rows

    def _initial(self) -> tuple[list[dict], list[dict]]:
        if self.wants_more:
            return self._typed_rows("steps", StepRow), self._typed_rows("lines", LineRow)
        if self.parent is None or self.is_bound:
            return [], []
        steps, lines = recipes.drafts_of(self.parent)
        self.kept_lines = lines
        return [vars(step) for step in steps], [self._line(line) for line in lines]

    def _line(self, line: recipes.LineDraft) -> dict:
        return {**vars(line), "item": line.item.pk, "amount": self.amount_text(line)}

    def amount_text(self, line: recipes.LineDraft) -> str:
        """An amount as it can be typed again, exactly."""
        return units.editable_quantity(
            line.amount, base=line.item.base, preference=self.person.units
        )

    def _typed_rows(self, prefix: str, row) -> list[dict]:
        """The rows as they were typed, empty ones left out."""
        found = [
            {name: self.typed.get(f"{prefix}-{n}-{name}", "") for name in row.base_fields}
            for n in range(MOST_ROWS)
        ]
        chosen = [name for name in ("title", "item") if name in row.base_fields]
        return [values for values in found if any(values[name] for name in chosen)]

    def is_valid(self) -> bool:
        # Each part is asked, so that every row shows what to mend at once.
        parts = (self.reason, self.design, self.steps, self.lines)
        answers = [part.is_valid() for part in parts]
        return self.is_bound and all(answers)

    def apply_refusal(self, refusal: Refusal) -> None:
        if refusal.field in self.design.fields:
            self.design.add_error(refusal.field, refusal.message)
        else:
            self.refused.append(refusal.message)

    @property
    def problems(self) -> list[str]:
        """What is wrong with the whole rather than with one row."""
        if not self.is_bound or self.reckoning:
            return self.refused
        return [*self.refused, *self.steps.non_form_errors(), *self.lines.non_form_errors()]

    def readable_lines(self) -> dict[int, recipes.LineDraft]:
        """By row, what goes in as far as it can be read; the step does not matter yet."""
        if not self.is_bound:
            return dict(enumerate(self.kept_lines))
        found = {}
        for n, row in self._rows_with_an_item():
            row.is_valid()
            typed = row.cleaned_data
            if typed.get("item") and isinstance(typed.get("amount"), int) and typed.get("basis"):
                found[n] = recipes.LineDraft(
                    item=typed["item"],
                    step="1",
                    basis=typed["basis"],
                    amount=typed["amount"],
                    is_fruit=typed.get("is_fruit", False),
                )
        return found

    def _rows_with_an_item(self) -> Iterator[tuple[int, LineRow]]:
        """The rows in which something is chosen, made without the rest of the form."""
        for n in range(MOST_ROWS):
            if self.typed.get(f"lines-{n}-item"):
                yield (
                    n,
                    LineRow(self.typed, prefix=f"lines-{n}", person=self.person, items=self.items),
                )

    def drafts(self) -> dict:
        """The arguments of `recipes.add_version`; a row's number is its step's key."""
        rows = [(str(n), row) for n, row in enumerate(self.steps, start=1) if row.cleaned_data]
        return {
            "reason": self.reason.cleaned_data["reason"],
            "parent": self.parent,
            "design": self.design.columns(),
            "steps": [row.draft(key) for key, row in rows],
            "lines": [row.draft() for row in self.lines if row.cleaned_data],
        }
